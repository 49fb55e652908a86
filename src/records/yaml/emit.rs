//! From the tree to text: fixed, plain, one way to write each thing.

use super::node::{Key, Layout, Node, Quoting, What};

/// The text of a mapping, ended by a line break.
pub fn emit(node: &Node) -> String {
    let mut out = String::new();
    match &node.what {
        What::Map(Layout::Block, pairs) if !pairs.is_empty() => block_map(&mut out, pairs, 0),
        What::List(Layout::Block, items) if !items.is_empty() => block_list(&mut out, items, 0),
        What::Text(..) | What::Map(..) | What::List(..) => {
            inline(&mut out, node, 0);
            out.push('\n');
        }
    }
    out
}

/// The text of one item of a list at the left edge: `- key: value` and its further lines.
pub fn emit_item(node: &Node) -> String {
    let mut out = String::new();
    block_list(&mut out, std::slice::from_ref(node), 0);
    out
}

/// What stands behind a key's colon in a mapping whose keys begin at column `indent`, without the last line break.
pub fn emit_behind_key(node: &Node, indent: usize, surround: Layout) -> String {
    let mut out = String::new();
    match surround {
        Layout::Block => behind_key(&mut out, node, indent),
        Layout::Flow => {
            out.push(' ');
            flow(&mut out, node);
        }
    }
    out.trim_end_matches('\n').to_owned()
}

/// An item of a list whose dashes stand at column `indent`, without its dash and the last line break.
pub fn emit_behind_dash(node: &Node, indent: usize, surround: Layout) -> String {
    let mut out = String::new();
    match surround {
        Layout::Block => {
            block_list(&mut out, std::slice::from_ref(node), indent);
            out = out.get(indent + 2..).unwrap_or("").to_owned();
        }
        Layout::Flow => flow(&mut out, node),
    }
    out.trim_end_matches('\n').to_owned()
}

/// A key as it is written.
pub fn emit_key(key: &str) -> String {
    scalar(key, Quoting::Fitting, Surround::Flow)
}

fn block_map(out: &mut String, pairs: &[(Key, Node)], indent: usize) {
    for (count, (key, value)) in pairs.iter().enumerate() {
        // the first key of an item stands behind its dash
        if count > 0 {
            blanks(out, indent);
        }
        out.push_str(&scalar(&key.text, Quoting::Fitting, Surround::Flow));
        out.push(':');
        behind_key(out, value, indent);
    }
}

fn behind_key(out: &mut String, value: &Node, indent: usize) {
    match &value.what {
        What::Map(Layout::Block, pairs) if !pairs.is_empty() => {
            out.push('\n');
            blanks(out, indent + 2);
            block_map(out, pairs, indent + 2);
        }
        What::List(Layout::Block, items) if !items.is_empty() => {
            out.push('\n');
            block_list(out, items, indent);
        }
        What::Text(..) | What::Map(..) | What::List(..) => {
            out.push(' ');
            inline(out, value, indent);
            out.push('\n');
        }
    }
}

fn block_list(out: &mut String, items: &[Node], indent: usize) {
    for item in items {
        blanks(out, indent);
        out.push_str("- ");
        match &item.what {
            What::Map(Layout::Block, pairs) if !pairs.is_empty() => block_map(out, pairs, indent + 2),
            What::List(Layout::Block, items) if !items.is_empty() => {
                flow_list(out, items);
                out.push('\n');
            }
            What::Text(..) | What::Map(..) | What::List(..) => {
                inline(out, item, indent);
                out.push('\n');
            }
        }
    }
}

fn inline(out: &mut String, node: &Node, indent: usize) {
    match &node.what {
        What::Text(text, quoting) if can_be_lines(text) && *quoting != Quoting::Bare => lines(out, text, indent + 2),
        What::Text(text, quoting) => out.push_str(&scalar(text, *quoting, Surround::Block)),
        What::Map(..) | What::List(..) => flow(out, node),
    }
}

fn flow(out: &mut String, node: &Node) {
    match &node.what {
        What::Text(text, quoting) => out.push_str(&scalar(text, *quoting, Surround::Flow)),
        What::List(_, items) => flow_list(out, items),
        What::Map(_, pairs) => {
            out.push('{');
            for (count, (key, value)) in pairs.iter().enumerate() {
                out.push_str(if count > 0 { ", " } else { "" });
                out.push_str(&scalar(&key.text, Quoting::Fitting, Surround::Flow));
                out.push_str(": ");
                flow(out, value);
            }
            out.push('}');
        }
    }
}

fn flow_list(out: &mut String, items: &[Node]) {
    out.push('[');
    for (count, item) in items.iter().enumerate() {
        out.push_str(if count > 0 { ", " } else { "" });
        flow(out, item);
    }
    out.push(']');
}

fn blanks(out: &mut String, count: usize) {
    out.extend(std::iter::repeat_n(' ', count));
}

/// Whether a text of several lines can stand as they are, without escapes.
fn can_be_lines(text: &str) -> bool {
    let body = text.strip_suffix('\n').unwrap_or(text);
    let edges = body.starts_with([' ', '\t', '\n']) || body.ends_with('\n') || body.is_empty();
    body.contains('\n') && !edges && body.chars().all(|letter| letter == '\n' || stands_as_it_is(letter))
}

fn lines(out: &mut String, text: &str, indent: usize) {
    out.push_str(if text.ends_with('\n') { "|" } else { "|-" });
    for line in text.lines() {
        out.push('\n');
        if !line.is_empty() {
            blanks(out, indent);
            out.push_str(line);
        }
    }
}

/// What a scalar stands in: between brackets a comma ends it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Surround {
    Block,
    Flow,
}

fn scalar(text: &str, quoting: Quoting, surround: Surround) -> String {
    let plain = match quoting {
        Quoting::Bare => can_be_plain(text.strip_prefix('-').unwrap_or(text), surround),
        Quoting::Fitting => can_be_plain(text, surround) && !means_something_else(text),
        Quoting::Always => false,
    };
    if plain { text.to_owned() } else { quoted(text) }
}

/// Whether a text can stand without quotes.
fn can_be_plain(text: &str, surround: Surround) -> bool {
    let inside = |letter: char| {
        letter.is_alphanumeric() && stands_as_it_is(letter)
            || " _./()+-%;!=".contains(letter)
            // between brackets some readers take a question mark for a key's
            || (surround == Surround::Block && "?,'\"".contains(letter))
    };
    let begins = text.starts_with(|letter: char| letter.is_alphanumeric() || letter == '/');
    begins && !text.ends_with(' ') && text.chars().all(inside)
}

/// Words and numbers that some reader takes for a truth value, nothing, a number, a day or a time.
fn means_something_else(text: &str) -> bool {
    const WORDS: [&str; 12] = ["y", "n", "yes", "no", "on", "off", "true", "false", "null", "nan", "inf", "infinity"];
    let number = |letter: char| letter.is_ascii_hexdigit() || "+-.,_xXoO".contains(letter);
    let like_number = text.starts_with(|letter: char| letter.is_numeric()) && text.chars().all(number);
    like_number || WORDS.iter().any(|word| text.eq_ignore_ascii_case(word))
}

/// Whether a character is shown and kept by every editor and mail program.
fn stands_as_it_is(letter: char) -> bool {
    let hidden = matches!(u32::from(letter),
        0x85 | 0xa0 | 0xad | 0x61c | 0x200b..=0x200f | 0x2028..=0x202e | 0x2060..=0x206f | 0xfeff | 0xfff0..=0xffff
        | 0xe0000..=0x0010_ffff);
    !letter.is_control() && !hidden
}

fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for letter in text.chars() {
        match letter {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            '\r' => out.push_str("\\r"),
            letter if stands_as_it_is(letter) => out.push(letter),
            letter => escaped(&mut out, u32::from(letter)),
        }
    }
    out.push('"');
    out
}

/// `\u202e`, `\U000e0001`.
fn escaped(out: &mut String, code: u32) {
    let (letter, digits) = if code <= 0xffff { ('u', 4) } else { ('U', 8) };
    out.push('\\');
    out.push(letter);
    let hex = (0..digits).rev().filter_map(|place| char::from_digit((code >> (4 * place)) & 0xf, 16));
    out.extend(hex);
}
