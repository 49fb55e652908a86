//! Lists whose lines are opened: parts and steps of a checklist, and what each may have.

use crate::records::edit::Path;
use crate::records::paper::{Grid, Row};

use super::{Done, Filling, Put};

impl Filling {
    /// `to 3` puts the one under the hand there, other letters find one.
    pub(super) fn in_list(&mut self, grid: &Grid, item: &Path, typed: &str) -> Result<Done, String> {
        let (row, column) = self.at();
        let to = typed.strip_prefix("to ").and_then(|line| line.trim().parse::<usize>().ok());
        let Some(to) = to else {
            let holds =
                |row: &Row| row.cells.iter().any(|cell| cell.text.to_lowercase().contains(&typed.to_lowercase()));
            // the one under the hand comes last: its own letters lead nowhere else
            let below = grid.rows.iter().enumerate().skip(row + 1).chain(grid.rows.iter().enumerate().take(row + 1));
            let found = below.filter(|(_, row)| holds(row)).map(|(row, _)| row).next();
            let found = found.ok_or_else(|| format!("No line holds `{typed}`."))?;
            self.empty_field();
            self.hand_to((found, column));
            return Ok(Done::Went);
        };
        let last = grid.rows.len().saturating_sub(1);
        let to = to.checked_sub(1).filter(|to| *to < last).ok_or_else(|| format!("The lines go from 1 to {last}."))?;
        self.paper.shift(item, to)?;
        self.empty_field();
        self.hand_to((to, column));
        Ok(Done::Put(Put { paper: Box::new(self.put()), told: None, taken: None }))
    }
}
