//! What another process finds while this one is at work.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use super::super::durable::{Disk, RealDisk, Written};
use super::super::lock::Lock;
use super::Store;
use crate::domain::stamp::Stamp;

/// The disk itself, with somebody who tries to write in a rotor's folder whenever something gets another name.
struct Tried {
    rotor: PathBuf,
    got: Arc<Mutex<Vec<bool>>>,
}

fn now() -> Stamp {
    "2031-04-17T14:05:31+02:00".parse().unwrap()
}

impl Disk for Tried {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        RealDisk.read(path)
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<Box<dyn Written>> {
        RealDisk.write(path, bytes)
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.got.lock().unwrap().push(Lock::take(&self.rotor, "somebody else", now()).is_ok());
        RealDisk.rename(from, to)
    }

    fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        RealDisk.sync_folder(folder)
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        RealDisk.remove(path)
    }

    fn make_folder(&self, folder: &Path) -> io::Result<()> {
        RealDisk.make_folder(folder)
    }
}

#[test]
fn nobody_begins_to_write_in_a_folder_before_it_is_set_aside() {
    let folder = tempfile::tempdir().unwrap();
    let (root, got) = (folder.path().join("demo"), Arc::default());
    let disk = Tried { rotor: root.join("rotors/DEMO-1"), got: Arc::clone(&got) };
    let store = Store { root: root.clone(), disk: Arc::new(disk) };
    drop(store.lock(&"DEMO-1".parse().unwrap(), "fitter-a", now()).unwrap());
    let held = store.lock_all("fitter-a", now()).unwrap();
    let aside = store.set_aside(held).unwrap();
    assert_eq!(*got.lock().unwrap(), [false]);
    assert!(aside.join("rotors/DEMO-1").is_dir() && !root.is_dir());
    // what was held is free again
    drop(Lock::take(&aside.join("rotors/DEMO-1"), "fitter-a", now()).unwrap());
}
