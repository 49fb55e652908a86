//! What the records of a rotor tell the next one: by when they were begun, whatever their files are called.

use std::sync::Arc;

use asfound::domain::apply::apply;
use asfound::domain::entry::{Act, Entry, Replaces};
use asfound::domain::rotor::Fitted;
use asfound::face::acts::begin::Last;
use asfound::face::shelf::RecordShelf;
use asfound::records::clock::PretendedClock;
use tempfile::TempDir;

use crate::bench::Bench;
use crate::plain::verbs::asfound;
use crate::review::shelf::Shelf;
use crate::rig::{Rig, figure, head, stamp};

/// A record begun at that moment, with the hours of the machine then.
fn begun(name: &str, at: &str, hours: &str) -> Rig {
    let mut head = head();
    head.id = format!("INV/{name}");
    head.begun = stamp(at);
    head.opened.machine_hours = Some(figure(hours));
    Rig::with(head)
}

/// What the rotor's records tell, and that the first screen and the line mode know the same.
fn last(shelf: &Shelf, hours: &str) -> Last {
    let clock = Arc::new(PretendedClock::at(stamp("2024-06-02T08:00:00+02:00")));
    let known = RecordShelf::new(shelf.store.clone(), clock).known().unwrap();
    let [(rotor, last)] = known.rotors.as_slice() else { panic!("one rotor") };
    let screen = Bench::over(shelf.root()).screen();
    let begin = screen.lines().find(|line| line.contains("begin")).unwrap_or_else(|| panic!("{screen}"));
    let bench = Bench::over(shelf.root()).keys(begin.split_whitespace().next().unwrap()).typed(rotor.id.as_str());
    let bench = bench.keys("enter").typed(&rotor.serial).keys("enter").typed("another").keys("enter");
    drop(bench.typed("fitter-a").keys("enter").expect(&format!("{hours} at the last opening")));
    last.clone()
}

#[test]
fn of_two_records_of_one_day_the_one_begun_last_tells() {
    let shelf = Shelf::empty();
    let people = head().people;
    shelf.store.save_people(&people).unwrap();
    let overhaul = begun("2024-05-17-overhaul", "2024-05-17T08:00:00+02:00", "8000 h");
    let cleaning = begun("2024-05-17-cleaning", "2024-05-17T10:00:00+02:00", "9500 h");
    shelf.keep(&cleaning.inspection, "2024-05-17-cleaning");
    shelf.keep(&overhaul.inspection, "2024-05-17-overhaul");
    let last = last(&shelf, "9500 h");
    assert_eq!((last.hours, last.unfinished.as_deref()), (Some(figure("9500 h")), Some("INV/2024-05-17-cleaning")));
}

/// A bush fitted in the record that was begun first, while another one was open beside it, is in the machine all the same.
#[test]
fn what_is_fitted_in_a_record_open_beside_the_last_one_is_known_to_the_next() {
    let shelf = Shelf::empty();
    shelf.store.save_people(&head().people).unwrap();
    let fit = |rig: &mut Rig, serial: &str, at: &str| {
        let fitted =
            Fitted { serial: Some(serial.to_owned()), hours: figure("0 h"), machine: figure("9000 h"), doubts: vec![] };
        let act = Act::PartFitted { part: "bush.ts".to_owned(), fitted, replaces: Replaces::Yes };
        let entry = Entry { number: rig.last().number + 1, at: stamp(at), act, ..rig.last().clone() };
        drop(apply(&mut rig.inspection, entry));
    };
    let mut first = begun("2024-05-17-small", "2024-05-17T08:00:00+02:00", "9000 h");
    let mut second = begun("2024-05-18-small", "2024-05-18T08:00:00+02:00", "9010 h");
    let serial = |all: [&Rig; 2]| {
        let read = all.map(|rig| &rig.inspection);
        asfound::domain::hours::carried_parts(&read).get("bush.ts").and_then(|fitted| fitted.serial.clone())
    };
    assert_eq!(serial([&first, &second]), None);
    fit(&mut first, "B-1", "2024-05-19T08:00:00+02:00");
    assert_eq!(serial([&first, &second]).as_deref(), Some("B-1"));
    shelf.keep(&second.inspection, "2024-05-18-small");
    shelf.keep(&first.inspection, "2024-05-17-small");
    assert_eq!(last(&shelf, "9010 h").parts["bush.ts"].serial.as_deref(), Some("B-1"));
    // whatever was fitted last is in
    fit(&mut second, "B-2", "2024-05-20T08:00:00+02:00");
    assert_eq!(serial([&first, &second]).as_deref(), Some("B-2"));
    fit(&mut first, "B-3", "2024-05-21T08:00:00+02:00");
    assert_eq!(serial([&first, &second]).as_deref(), Some("B-3"));
}

/// Before there is any record, the hours in the rotor's own file are what the counter is held against.
#[test]
fn a_counter_below_the_hours_in_the_rotors_file_is_asked_about() {
    let folder = TempDir::new().unwrap();
    std::fs::create_dir_all(folder.path().join("rotors/R-1")).unwrap();
    let rotor = "# asfound rotor\nformat: 1\nrotor: R-1\nserial: S-1\nmachine: T-1\nparts:\n\
                 - {part: shaft, hours: 9100 h, machine: 9000 h}\n";
    std::fs::write(folder.path().join("rotors/R-1/rotor.yaml"), rotor).unwrap();
    let people = "# asfound people\nformat: 1\npeople:\n- {id: fit-1, name: F, roles: [fitter]}\n";
    std::fs::write(folder.path().join("people.yaml"), people).unwrap();
    let begin = ["begin", "R-1", "--later", "--checklist", "bearing"];
    let (_, out, err) = asfound(folder.path(), &begin, "S-1\nfit-1\n8000\nagain\n9000\ndone\n");
    let doubt = "The counter stood at 9000 h when a part in the rotor's file was fitted, 8000 h is less: a new counter";
    assert_eq!(out.matches(doubt).count(), 1, "{out}{err}");
    let (_, out, err) = asfound(folder.path(), &["begin", "R-1", "--later"], "S-1\nanother\nfit-1\n8900\n");
    assert!(!out.contains("in the rotor's file was fitted"), "{out}{err}");
}
