//! What lies beside a copy and comes along: photos, and signatures by key.

use std::path::Path;

use super::super::inspection_file::Opened;
use super::super::save_fault::SaveFault;
use super::super::store::{PhotoKept, Store};

/// Photos that my record names and my folder has not as they were taken.
pub(super) fn lost(store: &Store, mine: &Opened) -> Vec<(u32, String)> {
    let mut pictures = store.pictures(mine.file.path(), &mine.inspection);
    pictures.retain(|one| one.kept != PhotoKept::Whole);
    pictures.into_iter().map(|one| (one.entry, one.photo.name.clone())).collect()
}

/// Photos and signatures by key that the copy has and my folder has not.
pub(super) fn come_along(store: &Store, mine: &Opened, (file, theirs): (&Path, &Opened)) -> Result<usize, SaveFault> {
    let record = mine.file.path();
    let mut count = 0;
    let mine_of = |chain: &str| {
        let same = mine.chains.iter().position(|one| one == chain).and_then(|at| mine.inspection.entries().get(at));
        same.or_else(|| mine.inspection.brought_as(chain))
    };
    for (entry, chain) in theirs.inspection.entries().iter().zip(&theirs.chains) {
        for photo in entry.deed().photos() {
            let there = store.photo_kept(file, photo) == PhotoKept::Whole;
            if there && store.photo_kept(record, photo) == PhotoKept::Missing {
                let bytes = store.bytes_if_there(&store.photo_path(file, photo)).unwrap_or_default();
                store.keep_photo(record, photo, &bytes)?;
                count += 1;
            }
        }
        // an entry that was brought keeps its signature by key, of the bytes it had there
        if let Some(here) = mine_of(chain)
            && let Some(bytes) = store.bytes_if_there(&store.signature_path(file, entry.number))
            && let signature = store.signature_path(record, here.number)
            && store.bytes_if_there(&signature).is_none()
        {
            store.keep_file(&signature, &bytes)?;
        }
    }
    Ok(count)
}
