//! Reads every file and lists all that is wrong: what `asfound check` says.

mod checklist;
mod endless;
mod kind;
mod levels;
mod places;
mod record;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use crate::domain::at_once::at_once;
use crate::domain::checklist::Checklist;
use crate::domain::id::Id;
use crate::domain::inspection::{Head, Inspection};
use crate::domain::rotor::{Rotor, stamped_alike};

use super::checklist_file::{GROUP, ORDER, built_in, built_in_names, join, read_whole};
use super::file::{read as read_file, without_format};
use super::inspection_file::is_record;
use super::instrument_file::read_instrument;
use super::people_file::read_people;
use super::reading::{bytes_of, place_under};
use super::rotor_file::read_rotor;
use super::settings_file::read_settings;
use super::sheet_file::read_sheet;
use super::store::{Store, stem_of, twice};
use super::yaml::{At, Node, Problem, Problems, nearest, parse, parse_on};
use checklist::remarks_of_checklist;
use kind::{Kind, kind_of};
use levels::remarks_of_sheet;
use places::Places;
use record::check_record;

/// What was found.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CheckReport {
    /// Readings of all records, struck ones included.
    pub readings: usize,
    /// Records that could be read.
    pub records: usize,
    /// All that is wrong.
    pub problems: Problems,
    /// What is no fault and should be known.
    pub remarks: Vec<String>,
}

impl CheckReport {
    /// `118 readings in 3 records, 0 problems`.
    pub fn first_line(&self) -> String {
        let plural = |count: usize| if count == 1 { "" } else { "s" };
        let (readings, records, problems) = (self.readings, self.records, self.problems.count());
        format!(
            "{readings} reading{} in {records} record{}, {problems} problem{}",
            plural(readings),
            plural(records),
            plural(problems)
        )
    }

    /// Whether nothing is wrong.
    pub fn is_fine(&self) -> bool {
        self.problems.is_empty()
    }

    /// The first line, then all problems, then all remarks.
    pub fn text(&self) -> String {
        let mut lines = vec![self.first_line()];
        lines.extend(self.problems.iter().map(ToString::to_string));
        lines.extend(self.remarks.iter().cloned());
        lines.join("\n")
    }

    fn take<T>(&mut self, read: Result<T, Problems>) -> Option<T> {
        read.map_err(|problems| self.problems.join(problems)).ok()
    }
}

/// Checks a whole data folder, and the program's own checklists.
pub fn check_folder(store: &Store) -> CheckReport {
    let mut report = CheckReport::default();
    for name in built_in_names() {
        if let Some(read) = built_in(name) {
            report.take(read);
        }
    }
    report.take(store.settings());
    report.take(store.people());
    let (gauges, faults) = store.instruments();
    report.problems.join(faults);
    let people = store.people().unwrap_or_default();
    let (sheets, faults) = report.take(store.sheets_that_read()).unwrap_or_default();
    report.problems.join(faults);
    let checklists = checklists(store);
    for (path, sheet) in sheets {
        let name = store.name_of(&path);
        let places = Places::of(&name, &bytes_of(store.disk(), &path).unwrap_or_default());
        report.remarks.extend(remarks_of_sheet(&places, &sheet, &gauges, &checklists));
        let known = |who: &str| people.iter().any(|one| one.is_called(who));
        let strange = sheet.enterers().into_iter().filter(|who| !people.is_empty() && !known(who));
        let at = places.key("entered by");
        report.remarks.extend(strange.map(|who| format!("{at}: entered by `{who}`, whom people.yaml does not know.")));
    }
    check_names(store, &mut report);
    for path in report.take(store.files("checklists")).unwrap_or_default() {
        check_file(store, &path, &mut report);
    }
    let rotors = report.take(store.rotors()).unwrap_or_default();
    let known: Vec<&Rotor> = rotors.iter().filter_map(|listed| listed.rotor.as_ref().ok()).collect();
    let twins = stamped_alike(&known).into_iter().map(|(one, other)| (&one.id, &other.id, &other.serial));
    report.remarks.extend(twins.map(|(one, other, serial)| {
        format!("rotors {one} and {other} bear one serial number, {serial}: a record may be begun on the wrong one.")
    }));
    for listed in rotors {
        let folder = store.root().join("rotors").join(&listed.folder);
        let mut of = listed.folder.clone();
        let file = folder.join("rotor.yaml");
        if let Some(rotor) = report.take(listed.rotor) {
            if !rotor.id.as_str().eq_ignore_ascii_case(&listed.folder) {
                let at = placed(store, &file, "rotor");
                report.remarks.push(format!("{at}: it says {}, which counts, not its folder.", rotor.id));
            }
            of = rotor.id.to_string();
            if let Ok(bytes) = bytes_of(store.disk(), &file) {
                check_rotor(store, (&store.name_of(&file), &bytes), &rotor, &mut report);
            }
        }
        check_records(store, (&folder, &of), &mut report);
    }
    report.remarks.extend(torn(&store.damaged_drafts()));
    report.remarks.extend(store.strays().into_iter().map(|name| format!("{name} is read by nothing here.")));
    report
}

/// What is half done and cannot be read: a power cut may tear it, and nothing that was called saved is lost with it.
fn torn(problems: &Problems) -> Vec<String> {
    let said = |one: &Problem| {
        format!("{}: what is half done cannot be read, found {}.", one.at.in_file(&one.file), one.found)
    };
    problems.iter().map(said).collect()
}

/// Where the value of a key stands in a file: `sheets/INV.yaml:3:8`.
fn placed(store: &Store, path: &Path, key: &str) -> String {
    place_under(store.disk(), path, &[key]).in_file(&store.name_of(path))
}

/// Files that bear another name than the id inside them, which counts; checklists of one id, of which none is taken.
fn check_names(store: &Store, report: &mut CheckReport) {
    for folder in ["instruments", "sheets", "checklists"] {
        let ids = store.ids_in(folder).unwrap_or_default();
        for (place, (path, id)) in ids.iter().enumerate() {
            if !stem_of(path).eq_ignore_ascii_case(id) {
                let at = placed(store, path, folder.trim_end_matches('s'));
                report.remarks.push(format!("{at}: it says {id} inside, which counts."));
            }
            let again = ids.iter().take(place).any(|(_, other)| other.eq_ignore_ascii_case(id));
            if again && folder == "checklists" {
                twice(store, path, id, &mut report.problems);
            }
        }
    }
}

/// The records of a folder, which are of the rotor `here`: the id in its file counts, not the folder's name.
fn check_records(store: &Store, (folder, here): (&Path, &str), report: &mut CheckReport) {
    let mut known: Vec<Counted> = Vec::new();
    for path in report.take(store.records_in(folder)).unwrap_or_default() {
        let there = report.take(Store::emptied(&path, store.name_of(&path)));
        let Some(one) = there.and_then(|()| check_file(store, &path, report)) else { continue };
        report.remarks.extend(torn(&store.damaged_beside(&path)));
        let name = store.name_of(&path);
        let at = || place_under(store.disk(), &path, &["inspection"]);
        let of = one.head().id.split('/').next().unwrap_or_default();
        if !of.eq_ignore_ascii_case(here) {
            let mut problems = Problems::of(&name);
            let mend = format!("Lay it into rotors/{of}: here it counts for another rotor.");
            problems.add(at(), format!("a record of {of}"), format!("records of {here}"), mend);
            report.problems.join(problems);
        }
        match known.iter_mut().find(|other| other.head().id.eq_ignore_ascii_case(&one.head().id)) {
            Some(other) if other.head() == one.head() => other.comes_again((&one, at()), report),
            Some(other) => {
                let (here, other) = (placed(store, &path, "inspection"), &other.name);
                report.remarks.push(format!("{here}: {other} is another inspection with this id; both are kept."));
                known.push(one);
            }
            None => {
                let beside = known.iter().filter(|other| at_once(&one.inspection, &other.inspection));
                report.remarks.extend(beside.map(|other| {
                    format!("{}: {} was open at the same time; both are kept.", at().in_file(&name), other.name)
                }));
                known.push(one);
            }
        }
    }
}

/// A record that was counted.
struct Counted {
    name: String,
    inspection: Inspection,
    readings: usize,
}

impl Counted {
    fn head(&self) -> &Head {
        self.inspection.head()
    }

    /// Another file holds it too: one of them may go on where the other ends, and what both hold counts once.
    fn comes_again(&mut self, (copy, at): (&Self, At), report: &mut CheckReport) {
        report.records -= 1;
        report.readings -= self.readings.min(copy.readings);
        self.readings = self.readings.max(copy.readings);
        let mut problems = Problems::of(&copy.name);
        let found = format!("a copy of {}, which {} holds too; neither is preferred", copy.head().id, self.name);
        let mend = "Look which of them goes further, and lay the other one elsewhere: no folder of this one.";
        problems.add(at, found, "each inspection in one file", mend);
        report.problems.join(problems);
    }
}

/// Checks single files, each by what it says it is.
pub fn check_files(files: &[PathBuf]) -> CheckReport {
    let mut report = CheckReport::default();
    // paths are given whole, so no folder is cut off their names
    let store = Store::at("");
    for path in files {
        check_file(&store, path, &mut report);
    }
    report
}

/// Checks one file; gives a record as it was counted.
fn check_file(store: &Store, path: &Path, report: &mut CheckReport) -> Option<Counted> {
    let bytes = report.take(bytes_of(store.disk(), path))?;
    let name = store.name_of(path);
    let (tree, notation) = parse_on(&name, &bytes);
    if !notation.is_empty() && is_record(&bytes) {
        // a record that cannot be parsed to its end is still read as far as it goes
        return check_record(store, path, &bytes, report);
    }
    let Some(tree) = tree else {
        report.problems.join(notation);
        return None;
    };
    let name = name.as_str();
    match kind_of(&tree, path) {
        Kind::Record => return check_record(store, path, &bytes, report),
        Kind::Order => {
            let folder = path.parent().unwrap_or(Path::new(""));
            let group = |group: &Id| {
                let path = folder.join(format!("{group}.yaml"));
                Some((store.name_of(&path), bytes_of(store.disk(), &path).ok()?))
            };
            if report.take(read_file(&ORDER, name, &bytes)).is_some() {
                report.take(join((name, &bytes), group));
            }
        }
        Kind::Group => drop(report.take(read_file(&GROUP, name, &bytes))),
        Kind::Checklist => {
            let checklist = report.take(read_whole(name, &bytes));
            let places = Places::of(name, &bytes);
            report.remarks.extend(checklist.iter().flat_map(|checklist| remarks_of_checklist(&places, checklist)));
        }
        Kind::Sheet => {
            let sheet = report.take(read_sheet(name, &bytes));
            // a sheet in a data folder is judged with the gauges that lie beside it
            let root = path.parent().and_then(Path::parent).unwrap_or(Path::new(""));
            let (store, (gauges, _)) = (Store::at(root), Store::at(root).instruments());
            let (checklists, places) = (checklists(&store), Places::of(name, &bytes));
            let remarks = |sheet| remarks_of_sheet(&places, sheet, &gauges, &checklists);
            report.remarks.extend(sheet.iter().flat_map(remarks));
        }
        Kind::Instrument => drop(report.take(read_instrument(name, &bytes))),
        Kind::People => drop(report.take(read_people(name, &bytes))),
        Kind::Rotor => {
            if let Some(rotor) = report.take(read_rotor(name, &bytes)) {
                // a rotor in a data folder has the parts of the checklists that lie there, and is judged by its sheets
                let root = path.ancestors().nth(3).unwrap_or(Path::new(""));
                check_rotor(&Store::at(root), (name, &bytes), &rotor, report);
            }
        }
        Kind::Settings => drop(report.take(read_settings(name, &bytes))),
        Kind::Unknown => {
            let expected =
                "a key that says what the file is: checklist, group, sheet, instrument, people, rotor or inspection";
            // each reader tells the notation's faults itself
            let (at, mut problems) = (tree.at, notation);
            let (found, mend) = kind::unknown(&tree);
            without_format(tree, &mut problems);
            problems.add(at, found, expected, mend);
            report.problems.join(problems);
        }
    }
    None
}

/// What a rotor names that is not here: parts of no checklist, whose hours would count for nothing, and a machine type
/// without a sheet, by which nothing would be judged.
fn check_rotor(store: &Store, (name, bytes): (&str, &[u8]), rotor: &Rotor, report: &mut CheckReport) {
    let Ok(tree) = parse(name, bytes) else { return };
    let mut problems = strange_parts(store, name, &tree, rotor);
    let read = store.sheets_that_read().map(|(sheets, _)| sheets).unwrap_or_default();
    let sheets: Vec<_> = read.into_iter().map(|(_, sheet)| sheet.id).collect();
    // what is wrong with a sheet that is there is told with it
    if store.sheet(&rotor.machine).is_ok() && !sheets.iter().any(|sheet| sheet.same_as(&rotor.machine)) {
        match nearest(rotor.machine.as_str(), sheets.iter().map(Id::as_str)) {
            Some(near) => {
                let at = tree.get("machine").map_or(tree.at, |node| node.at);
                let found = format!("the machine type `{}`, which has no limits sheet", rotor.machine);
                problems.add(at, found, "the name of a sheet", format!("Did you mean `{near}`?"));
            }
            None => report.remarks.push(format!(
                "{}: there is no limits sheet {} here: nothing on this rotor is judged before there is.",
                Places::of(name, bytes).key("machine"),
                rotor.machine
            )),
        }
    }
    report.problems.join(problems);
}

fn strange_parts(store: &Store, name: &str, tree: &Node, rotor: &Rotor) -> Problems {
    let mut problems = Problems::of(name);
    let known = known_parts(store);
    for item in tree.get("parts").map(Node::items).unwrap_or_default() {
        let Some(part) = item.get("part").and_then(Node::as_text) else { continue };
        if rotor.parts.contains_key(part) && !known.contains(part) {
            let near = nearest(part, known.iter().map(String::as_str));
            let all = || format!("Name one of {}.", known.iter().cloned().collect::<Vec<_>>().join(", "));
            let mend = near.map_or_else(all, |near| format!("Did you mean `{near}`?"));
            problems.add(
                item.at,
                format!("the part `{part}`"),
                "a piece that a checklist knows, no stretch of the job",
                mend,
            );
        }
    }
    problems
}

/// Every piece of the program's checklists and of the owner's own, by id: a stretch of the job is fitted to nothing.
fn known_parts(store: &Store) -> BTreeSet<String> {
    let parts = checklists(store).into_iter().flat_map(|checklist| checklist.parts);
    parts.filter(|part| part.stretch().is_none()).map(|part| part.id).collect()
}

/// The program's checklists and the owner's own, as far as they can be read.
fn checklists(store: &Store) -> Vec<Checklist> {
    let names = store.checklist_names().unwrap_or_default();
    names.iter().filter_map(|name| store.checklist(name).ok().flatten()).collect()
}
