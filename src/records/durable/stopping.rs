//! A pretended disk that stops at any call, before or after it took effect, and forgets what a power cut forgets.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

use super::{Disk, Written};

/// When a call fails, and what happens then.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::records) enum Stop {
    /// Never.
    Never,
    /// At this call, before anything happened; every later call fails too.
    Before(usize),
    /// At this call, after it took effect; every later call fails too.
    After(usize),
    /// Only this call fails, before anything happened.
    OnceBefore(usize),
    /// Only this call says that it failed, though it took effect.
    OnceAfter(usize),
}

/// What is left of what was not synced.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::records) enum Left {
    /// Nothing.
    Nothing,
    /// All of it: the system wrote it by itself.
    All,
    /// New names, and the first half of new bytes.
    NamesAndHalf,
}

#[derive(Debug, Default, Clone)]
struct State {
    calls: Vec<&'static str>,
    names: BTreeMap<PathBuf, usize>,
    kept_names: BTreeMap<PathBuf, usize>,
    now: Vec<Vec<u8>>,
    kept: Vec<Vec<u8>>,
}

#[derive(Clone)]
pub(in crate::records) struct StoppingDisk {
    state: Arc<Mutex<State>>,
    stop: Stop,
}

impl StoppingDisk {
    /// An empty disk.
    pub(in crate::records) fn new(stop: Stop) -> Self {
        Self { state: Arc::default(), stop }
    }

    /// The same contents, all of them safe, with another stop.
    pub(in crate::records) fn stopping(&self, stop: Stop) -> Self {
        let mut state = self.state.lock().unwrap().clone();
        state.calls.clear();
        state.kept_names = state.names.clone();
        state.kept = state.now.clone();
        Self { state: Arc::new(Mutex::new(state)), stop }
    }

    /// What is there when the power is back.
    pub(in crate::records) fn after_power_cut(&self, left: Left) -> Self {
        let mut state = self.state.lock().unwrap().clone();
        match left {
            Left::Nothing => (state.names, state.now) = (state.kept_names.clone(), state.kept.clone()),
            Left::All => {}
            Left::NamesAndHalf => {
                for (now, kept) in state.now.iter_mut().zip(&state.kept) {
                    if now != kept {
                        now.truncate(now.len() / 2);
                    }
                }
            }
        }
        let disk = Self { state: Arc::new(Mutex::new(state)), stop: Stop::Never };
        disk.stopping(Stop::Never)
    }

    /// The calls so far.
    pub(in crate::records) fn calls(&self) -> Vec<&'static str> {
        self.state.lock().unwrap().calls.clone()
    }

    /// Every name on it.
    pub(in crate::records) fn names(&self) -> Vec<PathBuf> {
        self.state.lock().unwrap().names.keys().cloned().collect()
    }

    /// Puts bytes there, as another program would.
    pub(in crate::records) fn meddle(&self, path: &Path, bytes: &[u8]) {
        let mut state = self.state.lock().unwrap();
        let place = state.file(path);
        state.now[place] = bytes.to_vec();
    }

    fn call<T>(&self, name: &'static str, effect: impl FnOnce(&mut State) -> T) -> io::Result<T> {
        let mut state = self.state.lock().unwrap();
        let number = state.calls.len();
        state.calls.push(name);
        let off = || Err(io::Error::other("the disk has stopped"));
        match self.stop {
            Stop::Before(stop) if number >= stop => off(),
            Stop::OnceBefore(stop) if number == stop => off(),
            Stop::After(stop) if number > stop => off(),
            Stop::After(stop) | Stop::OnceAfter(stop) if number == stop => {
                effect(&mut state);
                off()
            }
            Stop::Never | Stop::Before(_) | Stop::After(_) | Stop::OnceBefore(_) | Stop::OnceAfter(_) => {
                Ok(effect(&mut state))
            }
        }
    }
}

impl State {
    fn file(&mut self, path: &Path) -> usize {
        if let Some(place) = self.names.get(path) {
            return *place;
        }
        let place = self.now.len();
        self.now.push(Vec::new());
        self.kept.push(Vec::new());
        self.names.insert(path.to_owned(), place);
        place
    }
}

struct Handle {
    disk: StoppingDisk,
    place: usize,
}

impl Written for Handle {
    fn sync(&mut self) -> io::Result<()> {
        let place = self.place;
        self.disk.call("sync", |state| state.kept[place] = state.now[place].clone())
    }
}

impl Disk for StoppingDisk {
    fn read(&self, path: &Path) -> io::Result<Option<Vec<u8>>> {
        self.call("read", |state| state.names.get(path).map(|place| state.now[*place].clone()))
    }

    fn write(&self, path: &Path, bytes: &[u8]) -> io::Result<Box<dyn Written>> {
        self.call("create", |state| {
            let place = state.file(path);
            state.now[place].clear();
        })?;
        let place = self.call("write", |state| {
            let place = state.file(path);
            state.now[place] = bytes.to_vec();
            place
        })?;
        Ok(Box::new(Handle { disk: self.clone(), place }))
    }

    fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.call("rename", |state| {
            if let Some(place) = state.names.remove(from) {
                state.names.insert(to.to_owned(), place);
            }
        })
    }

    fn sync_folder(&self, _: &Path) -> io::Result<()> {
        self.call("sync folder", |state| state.kept_names = state.names.clone())
    }

    fn remove(&self, path: &Path) -> io::Result<()> {
        self.call("remove", |state| {
            state.names.remove(path);
        })
    }

    fn make_folder(&self, _: &Path) -> io::Result<()> {
        self.call("make folder", |_| ())
    }
}
