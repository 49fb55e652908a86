//! A checklist of the program as a file of one's own: every part and step as it was written, comments too.

use crate::domain::id::Id;
use crate::records::edit::{Change, Path, edited};
use crate::records::yaml::{Node, Quoting, parse};

use super::built_in::{group, order};
use super::{built_in, read_whole};

/// The text of the program's checklist under the id `new`; `None` when there is no such checklist.
///
/// # Errors
/// In words, when the copy would not read as the original; a test holds that it does.
pub fn copy_of(name: &str, new: &Id) -> Option<Result<String, String>> {
    let original = built_in(name)?;
    let (name, text) = order(name)?;
    Some(original.map_err(|problems| problems.to_string()).and_then(|mut original| {
        let copy = put_together(name, text, &original, new).ok_or_else(|| format!("`{name}` cannot be copied."))?;
        // a copy begins to count anew
        (original.id, original.version) = (new.clone(), 1);
        let read = read_whole(&format!("{new}.yaml"), copy.as_bytes()).map_err(|problems| problems.to_string())?;
        if read == original { Ok(copy) } else { Err(format!("The copy of `{name}` does not read as it should.")) }
    }))
}

/// The text of one's own checklist under the id `new`.
///
/// # Errors
/// In words, when the text cannot be read or changed.
pub fn renamed(file: &str, text: &str, new: &Id) -> Result<String, String> {
    let value = Node::text(new.as_str(), Quoting::Fitting);
    let change = Change::Put { value, behind: Vec::new() };
    edited(file, text, &Path::root().key("checklist"), &change).map_err(|fault| fault.to_string())
}

/// One part or step as it stands in its group, comments above it included.
struct Piece<'a> {
    id: &'a str,
    text: &'a str,
}

fn put_together(name: &str, order: &str, whole: &crate::domain::checklist::Checklist, new: &Id) -> Option<String> {
    let tree = parse(name, order.as_bytes()).ok()?;
    let mut out = String::from("# asfound checklist\n");
    out.push_str("# Copied from `");
    out.push_str(name);
    out.push_str("` of the program.\n");
    for line in order.lines().skip(1).take_while(|line| line.starts_with('#')) {
        out.push_str(line);
        out.push('\n');
    }
    let title = crate::records::yaml::emit(&Node::text(whole.title.as_str(), Quoting::Fitting));
    let head = format!("format: 1\nchecklist: {new}\nversion: 1\ntitle: {title}parts:\n");
    out.push_str(&head);
    let mut steps = Vec::new();
    for named in tree.get("groups")?.items() {
        let named = named.as_text()?;
        let text = group(named)?;
        let tree = parse(named, text.as_bytes()).ok()?;
        for line in text.lines().skip(1).take_while(|line| line.starts_with('#')) {
            out.push_str(line);
            out.push('\n');
        }
        for piece in pieces(text, &tree, "parts", "part")? {
            out.push_str(piece.text);
        }
        steps.push((text, tree));
    }
    out.push_str("steps:\n");
    let mut found = Vec::new();
    for (text, tree) in &steps {
        found.extend(pieces(text, tree, "steps", "step")?);
    }
    for step in &whole.steps {
        out.push_str(found.iter().find(|piece| piece.id == step.id)?.text);
    }
    Some(out)
}

/// The items of a list, each from behind the one before up to its own end.
fn pieces<'a>(text: &'a str, tree: &'a Node, list: &str, id: &str) -> Option<Vec<Piece<'a>>> {
    let Some(list) = tree.get(list) else { return Some(Vec::new()) };
    let mut begin = line_start(text, list.items().first()?.bytes.start);
    // comments above the first item, below the list's own key
    while let Some(before) = text.get(..begin.saturating_sub(1)).map(|before| line_start(text, before.len()))
        && begin > 0
        && text.get(before..begin).is_some_and(|line| line.trim_start().starts_with('#'))
    {
        begin = before;
    }
    let mut pieces = Vec::new();
    for item in list.items() {
        let end = text.get(item.bytes.end..)?.find('\n').map_or(text.len(), |end| item.bytes.end + end + 1);
        pieces.push(Piece { id: item.get(id)?.as_text()?, text: text.get(begin..end)? });
        begin = end;
    }
    Some(pieces)
}

fn line_start(text: &str, at: usize) -> usize {
    text.get(..at).and_then(|before| before.rfind('\n')).map_or(0, |end| end + 1)
}
