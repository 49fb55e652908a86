//! Whether the pictures are there with the bytes they had: those of entries, the sheets of what came late from paper, and
//! those that a signature states.

use std::path::Path;

use crate::domain::entry::{Act, Entry, PhotoRef};
use crate::domain::inspection::Inspection;
use crate::domain::telling::counted;
use crate::records::inspection_file::Opened;
use crate::records::store::Store;

use super::{Kind, Sign, Told, Verified};

pub(super) fn look(store: &Store, file: &Path, opened: &Opened, verified: &mut Verified) {
    let inspection = &opened.inspection;
    let mut whole = 0_usize;
    for one in store.pictures(file, inspection) {
        match one.lost() {
            None => whole += 1,
            Some(lost) => {
                let what = format!("The {lost}.");
                verified.tell(Told::new(Sign::Fault, Kind::Photo, what).at(one.entry).named(&one.photo.name));
            }
        }
    }
    match whole {
        0 => {}
        1 => verified.tell(Told::new(Sign::Holds, Kind::Photo, "1 photo has the bytes it had.")),
        count => {
            verified.tell(Told::new(Sign::Holds, Kind::Photo, format!("{count} photos have the bytes they had.")));
        }
    }
    stated(inspection, verified);
}

/// Every picture with the entry that names it.
fn named(inspection: &Inspection) -> impl Iterator<Item = (&Entry, &PhotoRef)> {
    inspection.entries().iter().flat_map(|entry| entry.deed().photos().iter().map(move |photo| (entry, photo)))
}

/// Hashes that stand without a picture's name: each must be that of a picture, a signature's of one before it.
fn stated(inspection: &Inspection, verified: &mut Verified) {
    for entry in inspection.entries() {
        let number = entry.number;
        if let Some(sheet) = entry.late.as_ref().and_then(|late| late.sheet.as_ref())
            && !named(inspection).any(|(_, photo)| photo.hash == *sheet)
        {
            let what = format!("Entry {number} came from a sheet whose photo is in no entry.");
            verified.tell(Told::new(Sign::Fault, Kind::Photo, what).at(number));
        }
        let Act::Sign(signature) = &entry.act else { continue };
        let before = |hash: &String| named(inspection).any(|(at, photo)| at.number < number && photo.hash == *hash);
        let unknown = signature.photos.iter().filter(|hash| !before(hash)).count();
        if unknown > 0 {
            let photos = counted(unknown, "photo");
            let what = format!("The signature, entry {number}, states {photos} that no entry before it has.");
            verified.tell(Told::new(Sign::Fault, Kind::Photo, what).at(number));
        }
    }
}
