//! The demonstration comes out as its description says: each figure and verdict of its last table.
//!
//! Expected values: the last table of the demonstration's description, reckoned there by hand and script.

use asfound::demo::{Keeper, Scenery, play, scenery};
use asfound::domain::entry::Entry;
use asfound::domain::inspection::{Head, Inspection};
use asfound::domain::signing::Seal;
use asfound::domain::standing::Standing;
use asfound::domain::telling;

/// Keeps nothing.
#[derive(Default)]
pub(super) struct Nowhere {
    entries: usize,
}

impl Keeper for Nowhere {
    fn begin(&mut self, _head: &Head) -> Result<(), String> {
        self.entries = 0;
        Ok(())
    }

    fn append(&mut self, entries: &[Entry]) -> Result<(), String> {
        self.entries += entries.len();
        Ok(())
    }

    fn seal(&mut self) -> Result<Seal, String> {
        Ok(Seal { length: u64::try_from(self.entries).unwrap(), sha256: "0".repeat(64) })
    }

    fn chain(&self) -> String {
        "0123456789abcdef".to_owned()
    }
}

pub(super) fn as_written() -> Scenery {
    scenery("2024-07-12".parse().unwrap()).unwrap()
}

pub(super) fn played() -> [Inspection; 3] {
    let scenery = as_written();
    let [first, second, third] = &scenery.answers;
    let mut keeper = Nowhere::default();
    let play = |answers: &String, before: Option<&Inspection>, keeper: &mut Nowhere| {
        play(&scenery, answers, before.map(|before| (before, "0123456789abcdef")), keeper).unwrap()
    };
    let first = play(first, None, &mut keeper);
    let second = play(second, Some(&first), &mut keeper);
    let third = play(third, Some(&second), &mut keeper);
    [first, second, third]
}

#[test]
fn show() {
    for inspection in played() {
        let standing = Standing::of(&inspection);
        println!("=== {} {} entries", inspection.head().id, inspection.entries().len());
        for one in &standing.characteristics {
            println!(
                "{:24} {:9?} {}  => {}; outlook {}",
                one.characteristic.id(),
                one.condition,
                telling::of_characteristic(one),
                one.leads_to().word(),
                one.outlook.as_ref().map(telling::of_outlook).unwrap_or_default()
            );
        }
        for part in &standing.parts {
            println!("{:20} {:?} {:?} {:?}", part.id, part.verdict.disposition, part.verdict.holds, part.reasons);
        }
        println!("{:?}", standing.counts);
    }
}
