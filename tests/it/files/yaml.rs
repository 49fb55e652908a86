//! The notation: strict reading, plain writing.

use asfound::records::yaml::{At, Key, Layout, MOST_NODES, Node, Quoting, What, emit, parse};
use proptest::prelude::*;

fn tree(text: &str) -> Node {
    parse("a.yaml", text.as_bytes()).unwrap_or_else(|problems| panic!("{problems}\n{text}"))
}

/// The faults of a text, each as `line:column found | expected | mend`.
fn faults(bytes: &[u8]) -> Vec<String> {
    let problems = parse("a.yaml", bytes).expect_err("taken");
    problems
        .iter()
        .map(|one| format!("{}:{} {} | {} | {}", one.at.line, one.at.column, one.found, one.expected, one.mend))
        .collect()
}

/// The same tree without places and ways of writing.
fn bare(node: &Node) -> Node {
    Node::new(match &node.what {
        What::Text(text, _) => What::Text(text.clone(), Quoting::Bare),
        What::List(_, items) => What::List(Layout::Block, items.iter().map(bare).collect()),
        What::Map(_, pairs) => {
            let pairs = pairs.iter().map(|(key, node)| (Key::new(key.text.clone()), bare(node)));
            What::Map(Layout::Block, pairs.collect())
        }
    })
}

#[test]
fn every_scalar_is_the_text_that_was_written() {
    for word in [
        "on",
        "off",
        "yes",
        "no",
        "y",
        "n",
        "True",
        "null",
        "~",
        "1e3",
        "0x10",
        "0o17",
        "1_000",
        "0b1",
        ".inf",
        "-.INF",
        ".nan",
        "012",
        "1:30",
        "2031-04-17",
        "2031-04-17T14:05:31+02:00",
        "+1",
        "1.",
        ".5",
        "5e",
        "0.20",
    ] {
        let read = tree(&format!("a: {word}\nb: [{word}]\n"));
        assert_eq!(read.get("a").unwrap().as_text(), Some(word));
        assert_eq!(read.get("b").unwrap().items()[0].as_text(), Some(word));
    }
}

#[test]
fn where_nothing_stands_there_is_no_text() {
    let read = tree("a:\nb: [~]\nc: \"\"\nd: {e, f: }\n");
    assert_eq!(read.get("a").unwrap().said(), "nothing");
    assert_eq!(read.get("b").unwrap().items()[0].as_text(), Some("~"));
    assert_eq!(read.get("c").unwrap().said(), "``");
    let inner = read.get("d").unwrap();
    assert_eq!((inner.get("e").unwrap().said().as_str(), inner.get("f").unwrap().as_text()), ("nothing", Some("")));
}

#[test]
fn places_are_counted_from_one_in_characters() {
    let read = tree("a: 1\n\"größe\": {b: 2, ccc: [x, y]}\n");
    let inner = read.get("größe").unwrap();
    assert_eq!(inner.at, At { line: 2, column: 10 });
    assert_eq!(inner.get("ccc").unwrap().items()[1].at, At { line: 2, column: 26 });
}

#[test]
fn what_is_more_than_plain_is_refused_and_all_of_it_listed() {
    let text = "a: &x 1\nb: *x\nc: *y\nd: !!int 3\na: 2\n<<: {e: 4}\n";
    assert_eq!(
        faults(text.as_bytes()),
        [
            "1:7 an anchor before this value | the value alone | Take out the `&` and the word behind it; a text that \
             begins with `&` goes in quotes.",
            "2:4 an alias | the value itself | Write the value itself; a text that begins with `*` goes in quotes.",
            "3:4 the alias `*y` | the value itself | Write the value itself; a text that begins with `*` goes in quotes.",
            "4:10 a tag before this value | the value alone | Take out the `!` and the word behind it; a text that \
             begins with `!` goes in quotes.",
            "5:1 the key `a` a second time | each key once | Keep one of the two.",
            "6:1 the merge key `<<` | a key | Write the keys themselves.",
        ]
    );
}

#[test]
fn what_cannot_be_read_says_where_and_how_to_mend_it() {
    for (text, expected) in [
        ("", "1:1 an empty file | keys with values | Begin it with `format: 1`."),
        ("# only a remark\n", "1:1 an empty file | keys with values | Begin it with `format: 1`."),
        ("a: 1\n---\nb: 2\n", "2:1 a second document | one document a file | Take out the line `---` or `...`."),
        ("a: 1\n\tb: 2\n", "Use blanks in place of the tab."),
        ("a: \"open\nb: 2\n", "Close the quotes on the same line."),
        ("a: [1, 2\n", "Close the bracket."),
        ("a: [1}\n", "Close each bracket with its own kind."),
        ("%YAML 1.1\n---\na: 1\n", "Take out the line that begins with `%`."),
        ("a: b: c\n", "A text with a colon in it goes in quotes; a key begins its own line."),
        ("a: \"\\q\"\n", "Write `\\\\` for a backslash between double quotes."),
        ("? [a]\n: 1\n", "1:3 a list as a key | a word as a key | Put a word and a colon before it."),
        ("{{a: 1}: 2}\n", "1:2 a mapping as a key | a word as a key | Put a word and a colon before it."),
    ] {
        let found = faults(text.as_bytes());
        assert!(found[0].ends_with(expected), "{text:?}: {found:?}");
    }
    assert_eq!(
        faults(b"a: 1\nbc: \xff\n"),
        [
            "2:5 bytes that are no UTF-8 | text in UTF-8 | Save it as UTF-8 text with an ordinary editor, or fetch the file \
          again."
        ]
    );
    assert!(faults(b"a: 1\nb: \x00\n")[0].starts_with("2:4 the control character 0x00 |"));
}

#[test]
fn hostile_files_are_refused_in_time_and_without_a_crash() {
    for open in ["[", "{a: ", "- ", "? "] {
        assert!(!faults(open.repeat(200_000).as_bytes()).is_empty());
    }
    assert!(faults(&vec![b' '; 64 * 1024 * 1024 + 1])[0].contains("at most 67108864 bytes"));
    let many = "- \n".repeat(MOST_NODES + 1);
    assert!(faults(many.as_bytes())[0].contains("at most 2000000"));
    let laughs = "a: &a [x,x]\nb: &b [*a,*a]\nc: [*b,*b]\n";
    assert_eq!(faults(laughs.as_bytes()).len(), 6);
    let keys = (0..50_000).map(|count| format!("k{count}: 1")).collect::<Vec<_>>().join("\n");
    assert_eq!(tree(&keys).get("k49999").unwrap().as_text(), Some("1"));
}

#[test]
fn texts_are_plain_only_where_every_reader_takes_them_for_text() {
    for (text, written) in [
        ("bush.ts/clearance", "bush.ts/clearance"),
        ("inner 0 / 3 / up", "inner 0 / 3 / up"),
        ("INV-420 manual (invented)", "INV-420 manual (invented)"),
        ("Fuel shut, tagged", "Fuel shut, tagged"),
        ("no", "\"no\""),
        ("3", "\"3\""),
        ("0,232", "\"0,232\""),
        ("1e3", "\"1e3\""),
        ("2031-04-17", "\"2031-04-17\""),
        ("a: b", "\"a: b\""),
        ("a #b", "\"a #b\""),
        ("", "\"\""),
        (" a", "\" a\""),
        ("- a", "\"- a\""),
        ("say \"so\"\\", "\"say \\\"so\\\"\\\\\""),
        ("\u{202e}x", "\"\\u202ex\""),
        ("one\ntwo\n", "|\n  one\n  two"),
        ("one\n\n  two", "|-\n  one\n\n    two"),
    ] {
        let map = Node::new(What::Map(Layout::Block, vec![(Key::new("a"), Node::text(text, Quoting::Fitting))]));
        assert_eq!(emit(&map), format!("a: {written}\n"));
    }
    // between brackets some readers end a text at these
    for text in ["inner 90?", "what? that", "a, b", "{a}", "[a]"] {
        let map = Node::new(What::Map(Layout::Flow, vec![(Key::new("a"), Node::text(text, Quoting::Fitting))]));
        assert_eq!(emit(&map), format!("{{a: \"{text}\"}}\n"));
    }
}

fn texts() -> impl Strategy<Value = String> {
    prop_oneof![
        ".{0,12}",
        "[a-z ,:#\\-\"'\\[\\]{}&*!|>%@`?\n\t]{0,10}",
        "[ \n\ta]{0,6}",
        "[0-9._eExX:+-]{1,8}",
        any::<String>(),
        "[a-z\" \\\\]{3000}",
    ]
}

fn trees() -> impl Strategy<Value = Node> {
    let layout = || prop_oneof![Just(Layout::Block), Just(Layout::Flow)];
    let quoting = prop_oneof![Just(Quoting::Fitting), Just(Quoting::Always)];
    let leaf = (texts(), quoting).prop_map(|(text, quoting)| Node::text(text, quoting));
    let key = prop_oneof!["[a-z ]{1,8}", ".{0,5}", "[-?:,#\n\"' ]{1,4}"];
    leaf.prop_recursive(5, 60, 5, move |inner| {
        let list = (layout(), prop::collection::vec(inner.clone(), 0..5));
        let map = (layout(), prop::collection::btree_map(key.clone(), inner, 0..5));
        prop_oneof![
            list.prop_map(|(layout, items)| Node::new(What::List(layout, items))),
            map.prop_map(|(layout, map)| {
                let pairs = map.into_iter().map(|(key, node)| (Key::new(key), node));
                Node::new(What::Map(layout, pairs.collect()))
            }),
        ]
    })
}

proptest! {
    #[test]
    fn what_is_written_is_read_back(root in trees()) {
        let map = Node::new(What::Map(Layout::Block, vec![(Key::new("root"), root)]));
        let text = emit(&map);
        let read = parse("a.yaml", text.as_bytes());
        prop_assert!(read.is_ok(), "{}\n{text}", read.unwrap_err());
        prop_assert_eq!(bare(&read.unwrap()), bare(&map), "{}", text);
    }

    #[test]
    fn no_bytes_panic(bytes in prop::collection::vec(any::<u8>(), 0..200), text in "[-a:,#\n\"' \\[\\]{}&*!|>%?\t]{0,60}") {
        drop(parse("a.yaml", &bytes));
        drop(parse("a.yaml", text.as_bytes()));
    }
}
