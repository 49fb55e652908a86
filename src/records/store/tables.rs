//! Limits sheets as tables: read and written by their machine type or their file.

use std::path::Path;

use crate::domain::id::Id;
use crate::domain::sheet::Sheet;

use super::super::reading::bytes_of;
use super::super::sheet_file::read_sheet;
use super::super::sheet_table::{read_table, write_table};
use super::super::yaml::Problems;
use super::Store;

impl Store {
    /// The table of a sheet named by its file, or by its machine type in this folder or in the demonstration's.
    ///
    /// # Errors
    /// In words, when there is no such sheet or it cannot be read.
    pub fn sheet_as_table(&self, name: &str) -> Result<Option<String>, String> {
        let Some(sheet) = self.sheet_named(name)? else { return Ok(None) };
        let mark = self.settings().map_err(|problems| problems.to_string())?.decimal_mark;
        Ok(Some(write_table(&sheet, mark)))
    }

    /// A sheet named by its file, or by its machine type in this folder or in the demonstration's.
    ///
    /// # Errors
    /// In words, when it cannot be read.
    pub fn sheet_named(&self, name: &str) -> Result<Option<Sheet>, String> {
        let path = Path::new(name);
        if path.is_file() {
            let read = bytes_of(self.disk.as_ref(), path).and_then(|bytes| read_sheet(name, &bytes));
            return read.map(Some).map_err(|problems| problems.to_string());
        }
        if let Ok(machine) = name.parse::<Id>() {
            for store in [self.clone(), self.demo()] {
                if let Some(sheet) = store.sheet(&machine).map_err(|problems| problems.to_string())? {
                    return Ok(Some(sheet));
                }
            }
        }
        Ok(None)
    }

    /// That there is no sheet of this name, and what it may be called.
    pub fn no_sheet(&self, name: &str) -> String {
        let folder = self.root.join("sheets");
        format!(
            "there is no sheet `{name}`: no file of that name, and none in {} or in the demonstration's. Name the file, or the machine type as in INV-420.",
            folder.display()
        )
    }

    /// The sheet that a table holds.
    ///
    /// # Errors
    /// Every fault of the table.
    pub fn sheet_from_table(&self, path: &Path) -> Result<Sheet, Problems> {
        read_table(&path.display().to_string(), &bytes_of(self.disk.as_ref(), path)?)
    }
}
