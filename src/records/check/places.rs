//! Where in its file a remark is about.

use crate::records::yaml::{Node, parse};

/// A file, to say at which line something stands in it.
pub(super) struct Places<'a> {
    file: &'a str,
    tree: Option<Node>,
}

impl<'a> Places<'a> {
    pub(super) fn of(file: &'a str, bytes: &[u8]) -> Self {
        Self { file, tree: parse(file, bytes).ok() }
    }

    /// Where the value of a key of the file stands: `sheets/INV.yaml:9:13`; the file alone where there is none.
    pub(super) fn key(&self, key: &str) -> String {
        self.said(self.tree.as_ref().and_then(|tree| tree.get(key)))
    }

    /// Where the item of a list that is called `name` under `key` begins.
    pub(super) fn item(&self, list: &str, key: &str, name: &str) -> String {
        self.said(self.find(list, key, name))
    }

    /// The line of the same.
    pub(super) fn line(&self, list: &str, key: &str, name: &str) -> Option<u32> {
        self.find(list, key, name).map(|item| item.at.line)
    }

    fn find(&self, list: &str, key: &str, name: &str) -> Option<&Node> {
        let items = self.tree.as_ref()?.get(list)?.items();
        items.iter().find(|item| item.get(key).and_then(Node::as_text) == Some(name))
    }

    fn said(&self, node: Option<&Node>) -> String {
        node.map_or_else(|| self.file.to_owned(), |node| node.at.in_file(self.file))
    }
}
