//! The invented demonstration rotor as the bench finds it, made from the project's own demonstration files.

use std::collections::BTreeMap;

use asfound::domain::apply::apply;
use asfound::domain::characteristic::Characteristic;
use asfound::domain::checklist::{Step, Takes};
use asfound::domain::decide::decide;
use asfound::domain::entry::{Act, Signature, TimerMark};
use asfound::domain::exact::Exact;
use asfound::domain::inspection::{Arrives, Head, Inspection, Manual, Opening, Past, Scene};
use asfound::domain::progress;
use asfound::domain::request::{Decision, Hand, Request};
use asfound::domain::review::Kept;
use asfound::domain::rotor::{Fitted, Rotor};
use asfound::domain::signing::Seal;
use asfound::domain::stamp::{Stamp, day};
use asfound::face::acts::Files;
use asfound::face::acts::begin::{Known, Last, Scope};
use asfound::face::effect::{Due, Going, HomeFacts, Opened, Waiting};
use asfound::face::reviewing::Reading;
use asfound::records::checklist_file::built_in;
use asfound::records::{instrument_file, people_file, rotor_file, sheet_file};

use crate::rig::{figure, id};

fn file(name: &str) -> Vec<u8> {
    std::fs::read(format!("{}/assets/demo/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

pub(super) fn now() -> Stamp {
    "2024-07-12T14:05:00+02:00".parse().unwrap()
}

/// A record as it is opened where nobody left anything.
pub(super) fn fresh(inspection: Inspection) -> Opened {
    Opened { inspection, draft: None, break_hours: 12, outside: None, files: Files::default(), remark: None }
}

fn rotor() -> Rotor {
    rotor_file::read_rotor("DEMO-1.yaml", &file("DEMO-1.yaml")).unwrap()
}

/// As the second inspection left it, two years ago.
fn past() -> Past {
    Past {
        inspection: "DEMO-1/2022-06-08-overhaul".to_owned(),
        date: day("2022-06-08").unwrap(),
        characteristic: Characteristic::parse("bush.ts.clearance").unwrap(),
        hours: figure("12130 h"),
        value: Exact::fraction(176, 1000).unwrap(),
        u: None,
        place: Some("inner 0".to_owned()),
        side: None,
        as_left: false,
        vector: None,
    }
}

/// The head of the present inspection.
pub(super) fn head() -> Head {
    let gauges = ["D1", "D2", "D3", "M1", "M2", "M3", "C1", "B1", "F1", "T1", "G1"];
    let gauge = |name: &&str| {
        let file_name = format!("instruments/{name}.yaml");
        instrument_file::read_instrument(&file_name, &file(&file_name)).unwrap()
    };
    let fitted =
        |hours: &str| Fitted { serial: None, hours: figure(hours), machine: figure("48480 h"), doubts: Vec::new() };
    let worn = ["bush.ts", "bush.cs", "thrust.main", "thrust.counter", "nozzle"];
    Head {
        id: "DEMO-1/2024-07-12-overhaul".to_owned(),
        begun: "2024-07-12T06:50:00+02:00".parse().unwrap(),
        by: id("fitter-a"),
        scene: Scene::Invented,
        previous: None,
        rotor: rotor(),
        opened: Opening {
            reason: Some("periodic, by hours".to_owned()),
            arrives: Some(Arrives::InPlace),
            machine_hours: Some(figure("48480 h")),
            part_hours: BTreeMap::new(),
            own_hours: None,
            manual: Some(Manual {
                title: "INV-420 manual (invented)".to_owned(),
                edition: "3".to_owned(),
                checked: day("2024-07-12").unwrap(),
            }),
            letters: Some("none".to_owned()),
            next_hours: Some(figure("60510 h")),
            next_date: Some(day("2026-07-02").unwrap()),
            doubts: Vec::new(),
        },
        checklist: built_in("overhaul").unwrap().unwrap(),
        sheet: Some(sheet_file::read_sheet("INV-420.yaml", &file("INV-420.yaml")).unwrap()),
        instruments: gauges.iter().map(gauge).collect(),
        people: people_file::read_people("people.yaml", &file("people.yaml")).unwrap(),
        history: vec![past()],
        carried: Vec::new(),
        taken_out: Vec::new(),
        parts: worn.into_iter().map(|part| (part.to_owned(), fitted("24370 h"))).collect(),
    }
}

/// Begun, nothing else.
pub(super) fn begun() -> Inspection {
    let mut inspection = Inspection::new(head());
    take(&mut inspection, Act::Begin, 0);
    inspection
}

fn hand(minutes: i64) -> Hand {
    let begun = "2024-07-12T06:50:00+02:00".parse::<Stamp>().unwrap().moment();
    let at = (begun + chrono::Duration::minutes(minutes)).into();
    Hand { by: id("fitter-a"), writer: None, at, late: None, break_hours: 4 }
}

fn take(inspection: &mut Inspection, act: Act, minutes: i64) {
    match decide(inspection, &Request::Do(act), &hand(minutes)) {
        Decision::Take(entry) => drop(apply(inspection, *entry)),
        other @ (Decision::Ask { .. } | Decision::Refuse(_)) => panic!("not taken: {other:?}"),
    }
}

/// Everything before `step` done in the plainest way: confirmed, ticked, looked at, readings left out with a reason.
pub(super) fn up_to(step: &str) -> Inspection {
    let mut inspection = begun();
    let mut minutes = 5;
    while let Some(next) = progress::next_step(&inspection).cloned() {
        if next.id == step {
            break;
        }
        minutes += 2;
        for act in plainest(&next) {
            // the dwell of a dye has its time: nothing is seen without it
            let dwells = matches!(&next.takes, Takes::Soak { to: Some(to), .. } if to.to_string() == "60 min" || to.to_string() == "30 min");
            minutes += if dwells && matches!(act, Act::Timer { mark: TimerMark::Ended, .. }) { 15 } else { 0 };
            take(&mut inspection, act, minutes.min(430));
        }
    }
    assert_eq!(progress::next_step(&inspection).map(|next| next.id.as_str()), Some(step), "the work never comes there");
    inspection
}

/// Every step at hand in turn, as far as leaving out every figure leads.
pub(super) fn each_step(see: &mut dyn FnMut(&Inspection, &Step)) {
    let mut inspection = begun();
    let mut minutes = 5;
    while let Some(next) = progress::next_step(&inspection).cloned() {
        see(&inspection, &next);
        minutes += 2;
        for act in plainest(&next) {
            let dwells = matches!(&next.takes, Takes::Soak { to: Some(to), .. } if to.to_string() == "60 min" || to.to_string() == "30 min");
            minutes += if dwells && matches!(act, Act::Timer { mark: TimerMark::Ended, .. }) { 15 } else { 0 };
            let Decision::Take(entry) = decide(&inspection, &Request::Do(act), &hand(minutes.min(430))) else {
                return;
            };
            drop(apply(&mut inspection, *entry));
        }
    }
}

fn plainest(step: &Step) -> Vec<Act> {
    let id = step.id.clone();
    match &step.takes {
        Takes::Points(points) => {
            points.iter().map(|point| Act::Confirm { step: id.clone(), point: point.id.clone() }).collect()
        }
        Takes::Tick => vec![Act::Tick { step: id }],
        Takes::Look => vec![Act::Looked { step: id }],
        Takes::Readings(_) => vec![Act::Skip { step: id, place: None, reason: "not for this test".to_owned() }],
        Takes::Words => vec![Act::Note { step: Some(id), text: "nothing to say".to_owned() }],
        // in and out at once, and a note why it is left at that
        Takes::Soak { .. } => [TimerMark::Started, TimerMark::Ended]
            .into_iter()
            .map(|mark| Act::Timer { step: id.clone(), mark })
            .chain([Act::Note { step: Some(id.clone()), text: "no bath in this test".to_owned() }])
            .collect(),
        Takes::Sign(what) => vec![Act::Sign(Signature {
            what: *what,
            length: 0,
            sha256: String::new(),
            standing: Vec::new(),
            photos: Vec::new(),
            carried: Vec::new(),
        })],
    }
}

/// The record as its reader gets it; the chain values are pretended.
pub(super) fn reading(inspection: Inspection) -> Reading {
    let chains = inspection.entries().iter().map(|entry| format!("{:016x}", entry.number)).collect();
    let file = "/home/bench/asfound/rotors/DEMO-1/2024-07-12-overhaul.yaml".to_owned();
    Reading::new(file, inspection, chains, Kept::default(), &[])
}

fn last() -> Last {
    let manual = Manual {
        title: "INV-420 manual (invented)".to_owned(),
        edition: "3".to_owned(),
        checked: day("2022-06-08").unwrap(),
    };
    Last {
        unfinished: None,
        manual: Some(manual),
        hours: Some(figure("36240 h")),
        day: day("2022-06-08").ok(),
        changed: false,
        parts: [(
            "bush.ts".to_owned(),
            Fitted { serial: None, hours: figure("0 h"), machine: figure("36240 h"), doubts: Vec::new() },
        )]
        .into(),
    }
}

const PARTS: [&str; 2] = ["bush.ts", "nozzle"];

fn scope(name: &str, title: &str) -> Scope {
    Scope { id: id(name), title: title.to_owned(), parts: PARTS.map(str::to_owned).to_vec() }
}

/// What the first screen shows, with two more rotors to fill the picture.
pub(super) fn facts() -> HomeFacts {
    let mut of_two_parts = rotor();
    of_two_parts.parts.retain(|part, _| PARTS.contains(&part.as_str()));
    let due = |rotor: &str, what: &str, hours: &str, date: &str, because: &str| Due {
        rotor: rotor.to_owned(),
        what: what.to_owned(),
        hours: hours.to_owned(),
        date: date.to_owned(),
        overdue: None,
        because: because.to_owned(),
    };
    HomeFacts {
        going: vec![Going {
            file: "DEMO-1/2024-07-12-overhaul".to_owned(),
            rotor: "DEMO-1".to_owned(),
            what: "overhaul, begun today by fitter A".to_owned(),
            step: "step 31 of 62".to_owned(),
            stopped: Some("stopped at: bush turbine side, inner 0, third up, 0.23 in the field".to_owned()),
            soaks: vec!["nozzle ring soaking: time over at 15:40, 1 h 35 from now".to_owned()],
        }],
        waiting: vec![
            Waiting {
                file: "DEMO-2/2024-06-08-bearing".to_owned(),
                rotor: "DEMO-2".to_owned(),
                what: "bearing inspection, 8 June 2024".to_owned(),
                whom: "came back from supervisor B: 2 remarks to answer".to_owned(),
                is_returned: true,
            },
            Waiting {
                file: "DEMO-3/2024-05-03-overhaul".to_owned(),
                rotor: "DEMO-3".to_owned(),
                what: "overhaul, 3 May 2024".to_owned(),
                whom: "countersign pending ashore: the close, 70 days".to_owned(),
                is_returned: false,
            },
        ],
        due: vec![
            due("DEMO-3", "air filter", "-", "16 July 2024", "six-weekly wash"),
            due("DEMO-2", "thrust bearings", "1210 h", "25 Sept 2024", "forecast, land 6"),
            due("DEMO-1", "impeller", "11520 h", "2 July 2026", "change interval"),
        ],
        wrong: vec!["D1 is 30 days past its date".to_owned()],
        known: Known {
            rotors: vec![(of_two_parts, last())],
            people: people_file::read_people("people.yaml", &file("people.yaml")).unwrap(),
            checklists: vec![scope("overhaul", "Full overhaul"), scope("bearing", "Bearing inspection")],
            invented: Vec::new(),
            sheets: vec!["INV-420".parse().unwrap()],
            faulty: Vec::new(),
        },
        begun: None,
        half_done: Vec::new(),
        folder: "/home/bench/asfound".to_owned(),
        room: "41 GB free".to_owned(),
        scene: Scene::Invented,
    }
}

/// What a signature states of a record that lies in no file.
pub(super) fn seal() -> Seal {
    Seal { length: 4096, sha256: "0".repeat(64), lost: Vec::new() }
}
