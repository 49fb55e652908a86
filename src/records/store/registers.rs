//! Settings, people, instruments, sheets and checklists.

use std::path::{Path, PathBuf};

use crate::domain::checklist::Checklist;
use crate::domain::id::Id;
use crate::domain::instrument::Instrument;
use crate::domain::person::Person;
use crate::domain::sheet::Sheet;

use super::super::checklist_file::{built_in, built_in_names, copy_of, read_whole, renamed};
use super::super::durable::{Known, replace};
use super::super::edit::followed;
use super::super::file::{self, Format};
use super::super::instrument_file::{INSTRUMENT, read_instrument};
use super::super::people_file::{INVENTED_PEOPLE, PEOPLE, People, read_people};
use super::super::reading::bytes_of;
use super::super::save_fault::SaveFault;
use super::super::settings_file::{SETTINGS, Settings, read_settings};
use super::super::sheet_file::{SHEET, read_sheet};
use super::super::yaml::{At, Problems, line_under};
use super::{Store, folder};

/// What is in each file of a folder, by its id, or what is wrong with it.
type OneByOne<T> = Vec<(String, Result<T, Problems>)>;

impl Store {
    /// The settings, as usual where there is no file.
    ///
    /// # Errors
    /// Every fault of the file.
    pub fn settings(&self) -> Result<Settings, Problems> {
        let read = self.read_if_there(&self.root.join("settings.yaml"), read_settings)?;
        Ok(read.unwrap_or_default())
    }

    /// Saves the settings.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn save_settings(&self, settings: &Settings) -> Result<(), SaveFault> {
        self.put(&self.root.join("settings.yaml"), &file::write(&SETTINGS, settings))
    }

    /// Everybody; nobody where there is no file.
    ///
    /// # Errors
    /// Every fault of the file.
    pub fn people(&self) -> Result<Vec<Person>, Problems> {
        let read = self.read_if_there(&self.root.join("people.yaml"), read_people)?;
        Ok(read.unwrap_or_default())
    }

    /// Saves everybody.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn save_people(&self, people: &[Person]) -> Result<(), SaveFault> {
        let there = self.disk.read(&self.root.join("people.yaml")).ok().flatten().unwrap_or_default();
        let invented = String::from_utf8_lossy(&there).starts_with(&format!("# {}", INVENTED_PEOPLE.remark));
        self.put_people(people, if invented { &INVENTED_PEOPLE } else { &PEOPLE })
    }

    /// The same of a demonstration: the file says that nobody of them exists.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn save_invented_people(&self, people: &[Person]) -> Result<(), SaveFault> {
        self.put_people(people, &INVENTED_PEOPLE)
    }

    fn put_people(&self, people: &[Person], format: &Format<People>) -> Result<(), SaveFault> {
        let people = People { people: people.to_vec() };
        self.put(&self.root.join("people.yaml"), &file::write(format, &people))
    }

    /// The instruments that can be read, and what is wrong with the others: one broken file hides no sound gauge.
    ///
    /// An id twice, without regard to case, is neither: nobody can say which corrections are those of the gauge at hand.
    pub fn instruments(&self) -> (Vec<Instrument>, Problems) {
        let (read, mut problems) = match self.read_all("instruments", read_instrument) {
            Ok(read) => read,
            Err(problems) => return (Vec::new(), problems),
        };
        let same = |one: &Instrument| read.iter().filter(|(_, other)| other.id.same_as(&one.id)).count();
        self.tell_twice(&read, |one| &one.id, &mut problems);
        (read.iter().map(|(_, one)| one).filter(|one| same(one) == 1).cloned().collect(), problems)
    }

    /// Saves an instrument, over the file that holds it now.
    ///
    /// # Errors
    /// When the disk refuses.
    pub fn save_instrument(&self, instrument: &Instrument) -> Result<(), SaveFault> {
        let path = self.path_for("instruments", &instrument.id);
        self.put(&path, &file::write(&INSTRUMENT, instrument))
    }

    /// Every sheet.
    ///
    /// # Errors
    /// Every fault of all their files; also a machine type twice, without regard to case.
    pub fn sheets(&self) -> Result<Vec<Sheet>, Problems> {
        let (sheets, problems) = self.sheets_that_read()?;
        problems.unless_any(Some(sheets.into_iter().map(|(_, sheet)| sheet).collect()))
    }

    /// The sheets that can be read, each with its file, and what is wrong with the others.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub(in crate::records) fn sheets_that_read(&self) -> Result<(Vec<(PathBuf, Sheet)>, Problems), Problems> {
        let (read, mut problems) = self.read_all("sheets", read_sheet)?;
        self.tell_twice(&read, |sheet| &sheet.id, &mut problems);
        Ok((read, problems))
    }

    /// Every sheet by its id, or what is wrong with it.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub fn sheets_one_by_one(&self) -> Result<OneByOne<Sheet>, Problems> {
        let read = |(path, id): (PathBuf, String)| {
            let bytes = bytes_of(self.disk.as_ref(), &path);
            (id, bytes.and_then(|bytes| read_sheet(&self.name_of(&path), &bytes)))
        };
        Ok(self.ids_in("sheets")?.into_iter().map(read).collect())
    }

    /// The sheet of a machine type, whatever its file is called; none where there is no file of it.
    ///
    /// # Errors
    /// Every fault of its file; that two files are of this type.
    pub fn sheet(&self, machine: &Id) -> Result<Option<Sheet>, Problems> {
        self.read_one("sheets", machine.as_str(), read_sheet)
    }

    /// Saves a sheet, over the file that holds it now: only what differs is changed there, comments stay.
    ///
    /// # Errors
    /// In words, when the file that is there cannot be read or the disk refuses.
    pub fn save_sheet(&self, sheet: &Sheet) -> Result<(), String> {
        let path = self.path_for("sheets", &sheet.id);
        let name = self.name_of(&path);
        let there = self.read_if_there(&path, |name, bytes| Ok((read_sheet(name, bytes)?, bytes.to_vec())));
        let Some((was, before)) = there.map_err(|problems| problems.to_string())? else {
            return self.put(&path, &file::write(&SHEET, sheet)).map_err(|fault| fault.to_string());
        };
        let (was, now) = (file::tree(&SHEET, &was), file::tree(&SHEET, sheet));
        let text = followed(&name, &String::from_utf8_lossy(&before), &was, &now);
        let text = text.map_err(|fault| format!("{name}: {fault}"))?;
        let known = Known::OneOf(&[before.as_slice()]);
        replace(self.disk.as_ref(), &path, known, text.as_bytes()).map_err(|fault| fault.to_string())
    }

    /// Names of all checklists: the owner's own, then those of the program that have no own one of the same name.
    ///
    /// # Errors
    /// When the folder cannot be read.
    pub fn checklist_names(&self) -> Result<Vec<String>, Problems> {
        let mut names: Vec<_> = self.ids_in("checklists")?.into_iter().map(|(_, id)| id).collect();
        for name in built_in_names() {
            if !names.iter().any(|own| own.eq_ignore_ascii_case(name)) {
                names.push(name.to_owned());
            }
        }
        Ok(names)
    }

    /// A checklist by its name: the owner's own before the program's.
    ///
    /// # Errors
    /// Every fault of its file; that two files have the name.
    pub fn checklist(&self, name: &str) -> Result<Option<Checklist>, Problems> {
        match self.read_one("checklists", name, read_whole)? {
            Some(own) => Ok(Some(own)),
            None => built_in(name).transpose(),
        }
    }

    /// Copies a checklist, one's own or the program's, into a new file of this folder, comments kept.
    ///
    /// # Errors
    /// In words, when there is none of that name, one is there already under the new one, or the disk refuses.
    pub fn copy_checklist(&self, name: &str, new: &Id) -> Result<PathBuf, String> {
        let path = self.path_for("checklists", new);
        if path.exists() {
            return Err(format!("{} is there already. Give the copy another name.", self.name_of(&path)));
        }
        let text = if let Some(own) = self.holders("checklists", name).first() {
            let bytes = bytes_of(self.disk.as_ref(), own).map_err(|problems| problems.to_string())?;
            renamed(&self.name_of(own), &String::from_utf8_lossy(&bytes), new)?
        } else {
            copy_of(name, new).ok_or_else(|| {
                let names = self.checklist_names().unwrap_or_default().join(", ");
                format!("there is no checklist `{name}`. Known are {names}.")
            })??
        };
        self.make_folder_of(&path).map_err(|fault| fault.to_string())?;
        let saved = replace(self.disk.as_ref(), &path, Known::Nothing, text.as_bytes());
        saved.map(|()| path).map_err(|fault| fault.to_string())
    }

    fn read_if_there<T>(
        &self,
        path: &Path,
        read: impl Fn(&str, &[u8]) -> Result<T, Problems>,
    ) -> Result<Option<T>, Problems> {
        if !path.exists() {
            return Ok(None);
        }
        read(&self.name_of(path), &bytes_of(self.disk.as_ref(), path)?).map(Some)
    }

    /// The one file of an id, read.
    fn read_one<T>(
        &self,
        folder: &str,
        id: &str,
        read: impl Fn(&str, &[u8]) -> Result<T, Problems>,
    ) -> Result<Option<T>, Problems> {
        match self.holders(folder, id).as_slice() {
            [] => Ok(None),
            [path] => self.read_if_there(path, read),
            [_, other, ..] => {
                let mut problems = Problems::of(folder);
                twice(self, other, id, &mut problems);
                Err(problems)
            }
        }
    }

    /// Every file of a folder, read; with all faults.
    fn read_all<T>(
        &self,
        folder: &str,
        read: impl Fn(&str, &[u8]) -> Result<T, Problems>,
    ) -> Result<(Vec<(PathBuf, T)>, Problems), Problems> {
        let mut problems = Problems::of(folder);
        let mut all = Vec::new();
        for path in self.files(folder)? {
            let bytes = bytes_of(self.disk.as_ref(), &path);
            match bytes.and_then(|bytes| read(&self.name_of(&path), &bytes)) {
                Ok(value) => all.push((path, value)),
                Err(others) => problems.join(others),
            }
        }
        Ok((all, problems))
    }

    /// Says of each file that holds the id of one before it, without regard to case.
    fn tell_twice<T>(&self, read: &[(PathBuf, T)], id: fn(&T) -> &Id, problems: &mut Problems) {
        for (place, (path, one)) in read.iter().enumerate() {
            if let Some((_, other)) = read.iter().take(place).find(|(_, other)| id(other).same_as(id(one))) {
                twice(self, path, id(other).as_str(), problems);
            }
        }
    }

    /// What lies in the folder and no reader takes: another ending, a folder within one of files. By its name.
    pub(in crate::records) fn strays(&self) -> Vec<String> {
        let of_kinds =
            ["instruments", "sheets", "checklists"].map(|kind| folder::others(&self.root.join(kind), &["yaml"]));
        let misspelt = |folder: &Path| folder::files(folder, &["yml"]).unwrap_or_default();
        let rotors = folder::folders(&self.root.join("rotors")).unwrap_or_default();
        let loose = folder::files(&self.root.join("rotors"), &["yaml", "yml"]).unwrap_or_default();
        let all = of_kinds.into_iter().flatten().chain(misspelt(&self.root)).chain(loose);
        all.chain(rotors.iter().flat_map(|rotor| misspelt(rotor))).map(|path| self.name_of(&path)).collect()
    }

    /// YAML files of a folder below the root.
    pub(in crate::records) fn files(&self, folder: &str) -> Result<Vec<PathBuf>, Problems> {
        folder::files(&self.root.join(folder), &["yaml"]).map_err(|error| unreadable(folder, &error))
    }

    /// The files of a folder, each with the id inside it, which counts; with its name where that cannot be read.
    pub(in crate::records) fn ids_in(&self, folder: &str) -> Result<Vec<(PathBuf, String)>, Problems> {
        let key = folder.trim_end_matches('s');
        let id = |path: PathBuf| {
            let bytes = bytes_of(self.disk.as_ref(), &path).unwrap_or_default();
            let id = line_under(key, &bytes).unwrap_or_else(|| stem_of(&path));
            (path, id)
        };
        Ok(self.files(folder)?.into_iter().map(id).collect())
    }

    /// The files that hold an id, whatever they are called; more than one is a fault.
    pub(super) fn holders(&self, folder: &str, id: &str) -> Vec<PathBuf> {
        let ids = self.ids_in(folder).unwrap_or_default().into_iter();
        ids.filter(|(_, is)| is.eq_ignore_ascii_case(id)).map(|(path, _)| path).collect()
    }

    /// Where an id's file is, or will be: no other one is written over.
    fn path_for(&self, folder: &str, id: &Id) -> PathBuf {
        let free = || {
            let names = std::iter::once(id.to_string()).chain((2..).map(|number: u32| format!("{id}-{number}")));
            names.map(|name| self.file_named(folder, &name)).find(|path| !path.exists())
        };
        let known = self.holders(folder, id.as_str()).into_iter().next();
        known.or_else(free).unwrap_or_else(|| self.file_named(folder, id.as_str()))
    }

    /// The file of a name; one that differs in case only is the same.
    pub(super) fn file_named(&self, folder: &str, name: &str) -> PathBuf {
        let same = |path: &PathBuf| stem_of(path).eq_ignore_ascii_case(name);
        let known = self.files(folder).unwrap_or_default().into_iter().find(same);
        known.unwrap_or_else(|| self.root.join(folder).join(format!("{name}.yaml")))
    }
}

/// The name of a file, without its ending.
pub(in crate::records) fn stem_of(path: &Path) -> String {
    path.file_stem().unwrap_or_default().to_string_lossy().into_owned()
}

/// Says that a file holds an id that another one has.
pub(in crate::records) fn twice(store: &Store, path: &Path, id: &str, problems: &mut Problems) {
    let mut of_file = Problems::of(store.name_of(path));
    let found = format!("the id `{id}`, which another file has");
    of_file.add(
        At { line: 3, column: 1 },
        found,
        "each id once, without regard to case",
        "Give one of the two another id.",
    );
    problems.join(of_file);
}

/// A folder that cannot be looked into.
pub(super) fn unreadable(folder: &str, error: &std::io::Error) -> Problems {
    let mut problems = Problems::of(folder);
    let found = format!("a folder that cannot be read: {error}");
    problems.add(At::WHOLE, found, "a folder", "Look who may read it.");
    problems
}
