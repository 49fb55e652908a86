//! The sample files of docs/files: one of every kind, read, written back, and kept as they are.

use asfound::domain::carried::Carried;
use asfound::domain::characteristic::Given;
use asfound::domain::checklist::{Checklist, Signing};
use asfound::domain::entry::{
    Act, Entry, FindingMade, Late, PhotoRef, Remark, Replaces, Signature, SignedVerdict, TimerMark,
};
use asfound::domain::inspection::{Arrives, Head, Manual, Opening, Past, Previous, Scene};
use asfound::domain::person::{Person, Role};
use asfound::domain::rotor::Fitted;
use asfound::domain::sheet::GivenFigure;
use asfound::domain::verdict::{Consequence, Disposition};
use asfound::records::checklist_file::{GROUP, ORDER, WHOLE, join, read_whole};
use asfound::records::entry_file::entry_text;
use asfound::records::file::{Format, read, write};
use asfound::records::inspection_file::{InspectionFile, Trust, head_text, open};
use asfound::records::instrument_file::{INSTRUMENT, read_instrument};
use asfound::records::people_file::{PEOPLE, read_people};
use asfound::records::rotor_file::{ROTOR, read_rotor};
use asfound::records::seal::chain_after;
use asfound::records::settings_file::{SETTINGS, read_settings};
use asfound::records::sheet_file::{SHEET, read_sheet};

pub(crate) const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/files/");

pub(crate) const RECORD: &str = "rotors/DEMO-1/2031-04-17-short.yaml";

/// The bytes of a sample.
pub(crate) fn sample(name: &str) -> Vec<u8> {
    std::fs::read(format!("{FOLDER}{name}")).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn same_bytes<T: PartialEq + std::fmt::Debug>(format: &Format<T>, name: &str) -> T {
    let bytes = sample(name);
    let value = read(format, name, &bytes).unwrap_or_else(|problems| panic!("{problems}"));
    let written = write(format, &value);
    same_lines(name, &written, &String::from_utf8(bytes).unwrap());
    value
}

/// Says the first line that differs.
fn same_lines(name: &str, written: &str, kept: &str) {
    for (line, (written, kept)) in (1..).zip(written.lines().zip(kept.lines())) {
        assert_eq!(written, kept, "{name}:{line} as the program writes it");
    }
    assert!(written == kept, "{name} is longer or shorter as the program writes it");
}

#[test]
fn every_sample_is_read_and_written_back_byte_for_byte() {
    same_bytes(&SETTINGS, "settings.yaml");
    same_bytes(&PEOPLE, "people.yaml");
    same_bytes(&INSTRUMENT, "instruments/D2.yaml");
    same_bytes(&SHEET, "sheets/INV-420.yaml");
    same_bytes(&WHOLE, "checklists/short.yaml");
    same_bytes(&GROUP, "groups/pin.yaml");
    same_bytes(&ORDER, "groups/pin.order.yaml");
    same_bytes(&ROTOR, "rotors/DEMO-1/rotor.yaml");
}

#[test]
fn every_sample_passes_its_checks() {
    let said =
        |result: Result<(), asfound::records::yaml::Problems>| result.unwrap_or_else(|problems| panic!("{problems}"));
    said(read_settings("a", &sample("settings.yaml")).map(drop));
    said(read_people("a", &sample("people.yaml")).map(drop));
    said(read_instrument("a", &sample("instruments/D2.yaml")).map(drop));
    said(read_sheet("a", &sample("sheets/INV-420.yaml")).map(drop));
    said(read_whole("a", &sample("checklists/short.yaml")).map(drop));
    said(read_rotor("a", &sample("rotors/DEMO-1/rotor.yaml")).map(drop));
    let group = |name: &asfound::domain::id::Id| Some((name.to_string(), sample(&format!("groups/{name}.yaml"))));
    said(join(("a", &sample("groups/pin.order.yaml")), group).map(drop));
}

/// The checklist of the sample record.
fn checklist() -> Checklist {
    read_whole("short", &sample("checklists/short.yaml")).unwrap()
}

/// The head of the sample record.
pub(super) fn head() -> Head {
    let rotor = read_rotor("rotor", &sample("rotors/DEMO-1/rotor.yaml")).unwrap();
    let figure = |text: &str| text.parse().unwrap();
    let bush = "bush.ts".to_owned();
    let characteristic = |id: &str| asfound::domain::characteristic::Characteristic::parse(id).unwrap();
    let past = |value: (i128, i128), as_left| Past {
        inspection: "DEMO-1/2029-03-12-overhaul".to_owned(),
        date: "2029-03-12".parse().unwrap(),
        characteristic: characteristic("bush.ts.clearance"),
        hours: figure(if as_left { "0 h" } else { "12130 h" }),
        value: asfound::domain::exact::Exact::fraction(value.0, value.1).unwrap(),
        u: (!as_left).then(|| asfound::domain::exact::Exact::parse("0.0024").unwrap()),
        place: (!as_left).then(|| "inner 0".to_owned()),
        side: None,
        as_left,
        vector: None,
    };
    Head {
        id: "DEMO-1/2031-04-17-short".to_owned(),
        begun: "2031-04-17T07:02:00+02:00".parse().unwrap(),
        by: "fitter-a".parse().unwrap(),
        scene: Scene::Invented,
        previous: Some(Previous {
            inspection: "DEMO-1/2029-03-12-overhaul".to_owned(),
            entry: 163,
            chain: "5d0c9e1f7a2b4c68".to_owned(),
        }),
        parts: rotor.parts.clone(),
        rotor,
        opened: Opening {
            reason: Some("periodic".to_owned()),
            arrives: Some(Arrives::InPlace),
            machine_hours: Some(figure("48480 h")),
            part_hours: [(bush, figure("24370 h"))].into(),
            own_hours: None,
            manual: Some(Manual {
                title: "INV-420 manual (invented)".to_owned(),
                edition: "3".to_owned(),
                checked: "2031-04-17".parse().unwrap(),
            }),
            letters: None,
            next_hours: Some(figure("60510 h")),
            next_date: None,
            doubts: Vec::new(),
        },
        checklist: checklist(),
        sheet: Some(read_sheet("sheet", &sample("sheets/INV-420.yaml")).unwrap()),
        instruments: vec![read_instrument("D2", &sample("instruments/D2.yaml")).unwrap()],
        people: read_people("people", &sample("people.yaml")).unwrap(),
        history: vec![past((19, 125), true), past((313, 1500), false)],
        carried: vec![Carried {
            inspection: "DEMO-1/2029-03-12-overhaul".to_owned(),
            part: "bush.ts".to_owned(),
            about: "clearance".to_owned(),
            who: "maker's desk".to_owned(),
            document: "letter 5 (invented)".to_owned(),
            conditions: "look at it again at 24000 h".to_owned(),
            until: "this opening".to_owned(),
        }],
        taken_out: Vec::new(),
    }
}

/// SHA-256 of the picture kept beside the sample record.
const PICTURE: &str = "73010d8ff11f14f6af397cc38e80976a6455ebff51c0981c2975e7b1fbc428e5";

fn photo() -> PhotoRef {
    PhotoRef { hash: PICTURE.to_owned(), name: "IMG 0412.png".to_owned() }
}

/// One act of every kind, but those that name a signature before them.
pub(super) fn acts() -> Vec<Act> {
    [acts_of_the_bench(), acts_of_judgement(), acts_of_the_record()].concat()
}

fn id(text: &str) -> asfound::domain::id::Id {
    text.parse().unwrap()
}

fn figure(text: &str) -> asfound::domain::figure::Figure {
    text.parse().unwrap()
}

fn words(text: &str) -> String {
    text.to_owned()
}

fn acts_of_the_bench() -> Vec<Act> {
    let (step, part) = (|| words("bush.ts/clearance"), || words("bush.ts"));
    vec![
        Act::Begin,
        Act::Opening(Box::new(Opening { letters: Some(words("none in force")), ..Opening::default() })),
        Act::Confirm { step: words("safe/points"), point: words("permit") },
        Act::NotApplicable { step: words("safe/points"), point: Some(words("oil")), reason: words("grease: no oil") },
        Act::Timer { step: words("bush.ts/cleaning"), mark: TimerMark::Started },
        Act::Timer { step: words("bush.ts/cleaning"), mark: TimerMark::Ended },
        Act::Finding(FindingMade {
            part: part(),
            step: words("bush.ts/look"),
            kind: words("scoring"),
            grade: words("light"),
            details: [(words("place"), words("inner, 40 deg")), (words("length"), words("0,5"))].into(),
            note: Some(words("one fine line\nfelt by the nail")),
            photos: vec![photo()],
        }),
        Act::Looked { step: words("bush.ts/look") },
        Act::Gauge(Box::new(head().instruments[0].clone())),
        Act::GaugeCheck { gauge: id("D2"), piece: figure("0.500 mm"), shows: figure("0.500 mm") },
        Act::Reading {
            step: step(),
            place: words("inner 0 / 1 / down"),
            typed: words("0,020"),
            taken: figure("0.020 mm"),
            gauge: Some(id("D2")),
            doubts: vec![],
        },
        Act::Reading {
            step: step(),
            place: words("inner 0 / 1 / up"),
            typed: words(".034"),
            taken: figure("0.034 mm"),
            gauge: Some(id("D2")),
            doubts: vec![words("turn"), words("far off")],
        },
    ]
}

fn acts_of_judgement() -> Vec<Act> {
    let (step, part) = (|| words("bush.ts/clearance"), || words("bush.ts"));
    let (one, _) = levels();
    vec![
        Act::Strike { entry: 12, reason: words("wrong place") },
        Act::Skip { step: step(), place: Some(words("inner 90")), reason: words("pin in the way") },
        Act::Photo { step: Some(step()), photo: photo() },
        Act::Note { step: None, text: words("no: the lamp is dim # not seen") },
        Act::Tick { step: words("bush.ts/cleaning") },
        Act::Call { part: part(), question: words("Is the line a crack?") },
        Act::Answer { entry: 18, who: words("maker's desk"), text: words("No. Go on.") },
        Act::Unjudged {
            characteristic: one,
            as_left: true,
            supervisor: id("supervisor-b"),
            reason: words("one place only"),
        },
        Act::Condemned { part: part(), reason: words("dropped") },
        Act::Overrule {
            part: part(),
            to: Disposition::Replace,
            supervisor: id("supervisor-b"),
            reason: words("spare at hand"),
        },
        Act::Concession {
            part: part(),
            about: one.id().to_owned(),
            who: words("maker"),
            document: words("letter 7 (invented)"),
            conditions: words("look at it again in 2000 h"),
            until: words("next opening"),
            allows: Consequence::Watch,
        },
    ]
}

/// An answer taken in from another copy, where it stood behind the entry with the chain value `before`.
fn brought(before: &str) -> Act {
    let bytes = "- entry: 31\n  at: \"2031-04-18T09:00:00+02:00\"\n  by: supervisor-b\n  kind: answer\n  answers: 18\n  who: supervisor B\n  text: go on\n";
    let entry = asfound::records::entry_file::entry_of(bytes).map(Box::new);
    Act::Brought { chain: chain_after(before, bytes.as_bytes()), bytes: words(bytes), after: Some(30), entry }
}

fn levels() -> (asfound::domain::characteristic::Characteristic, asfound::domain::sheet::Levels) {
    let sheet = read_sheet("sheet", &sample("sheets/INV-420.yaml")).unwrap();
    let (one, levels) = sheet.levels.iter().next().unwrap();
    (*one, levels.clone())
}

fn acts_of_the_record() -> Vec<Act> {
    let part = || words("bush.ts");
    let (one, levels) = levels();
    vec![
        Act::Mentor { mentor: id("fitter-c") },
        Act::Resume,
        Act::Person(Person { id: id("fitter-d"), name: words("fitter D"), roles: vec![Role::Fitter], keys: vec![] }),
        Act::Level { characteristic: one, levels: Box::new(levels), doubts: vec![] },
        Act::Given {
            given: Given::parse("use.daily").unwrap(),
            figure: GivenFigure { figure: figure("16 h"), source: words("invented") },
        },
        Act::PartFitted {
            part: part(),
            fitted: Fitted {
                serial: Some(words("INV-B-311")),
                hours: figure("0 h"),
                machine: figure("48480 h"),
                doubts: Vec::new(),
            },
            replaces: Replaces::Yes,
        },
        Act::Plan {
            hours: Some(figure("60000 h")),
            date: Some("2032-09-01".parse().unwrap()),
            supervisor: Some(id("supervisor-b")),
            reason: words("impeller's life ends"),
        },
        Act::SeenOutside {
            from: Some(4),
            note: words("opened with an editor, nothing meant"),
            length: Some(7000),
            sha256: Some("0123456789abcdef".repeat(4)),
        },
        brought("0123456789abcdef"),
    ]
}

/// An entry of the sample record.
pub(super) fn entry(number: u32, act: Act) -> Entry {
    let minute = number % 60;
    let late = matches!(act, Act::Skip { .. })
        .then(|| Late { taken: "09:15, on the back of the permit".to_owned(), sheet: Some(PICTURE.to_owned()) });
    Entry {
        number,
        at: format!("2031-04-17T08:{minute:02}:31+02:00").parse().unwrap(),
        by: id(if matches!(act, Act::Return { .. } | Act::Countersign { .. }) { "supervisor-b" } else { "fitter-a" }),
        writer: matches!(act, Act::Reading { .. }).then(|| "fitter-c".parse().unwrap()),
        late,
        act,
    }
}

/// Writes the sample record; where it lies.
fn record_in(folder: &std::path::Path) -> std::path::PathBuf {
    let path = folder.join("2031-04-17-short.yaml");
    let before = acts().len() - 1;
    let entries: Vec<_> = (1..).zip(acts()).take(before).map(|(number, act)| entry(number, act)).collect();
    let mut file = InspectionFile::begin(&path, &head(), &entries).unwrap();
    file.append(&[entry(file.next(), brought(file.chain()))]).unwrap();
    let sign = |file: &InspectionFile| {
        let seal = file.seal_behind(&[]).unwrap();
        let (length, sha256, holds) = (seal.length, seal.sha256, vec!["new part to check".to_owned()]);
        Act::Sign(Signature {
            what: Signing::Decisions,
            length,
            sha256,
            standing: vec![SignedVerdict {
                part: "bush.ts".to_owned(),
                disposition: Some(Disposition::Replace),
                holds,
            }],
            photos: vec![PICTURE.to_owned()],
            carried: vec!["bush.ts: new part to check, at the first start".to_owned()],
        })
    };
    let signed = file.next();
    file.append(&[entry(signed, sign(&file))]).unwrap();
    let chain = file.chain().to_owned();
    let remarks = vec![Remark { step: Some("bush.ts/clearance".to_owned()), text: "inner 90?".to_owned() }];
    file.append(&[entry(signed + 1, Act::Return { sign: signed, chain, remarks })]).unwrap();
    let answered = Act::RemarkAnswered { entry: signed + 1, remark: 1, text: words("measured again") };
    file.append(&[entry(signed + 2, answered)]).unwrap();
    file.append(&[entry(signed + 3, sign(&file))]).unwrap();
    let again = Act::Countersign { sign: signed + 3, chain: file.chain().to_owned() };
    file.append(&[entry(signed + 4, again)]).unwrap();
    path
}

#[test]
fn the_sample_record_holds_every_kind_and_is_what_the_program_writes() {
    let folder = tempfile::tempdir().unwrap();
    let written = std::fs::read_to_string(record_in(folder.path())).unwrap();
    let kept = std::fs::read_to_string(format!("{FOLDER}{RECORD}")).unwrap_or_default();
    if written != kept {
        let copy = format!("{}/{}", env!("CARGO_TARGET_TMPDIR"), "2031-04-17-short.yaml");
        std::fs::write(&copy, &written).unwrap();
        panic!("docs/files/{RECORD} is no longer what is written; the new text is at {copy}");
    }
    for word in KINDS.split_whitespace() {
        assert!(kept.contains(&format!("\n  kind: {word}\n")), "no entry of the kind {word}");
    }
}

const KINDS: &str = "begin confirm not-applicable tick reading finding looked photo note timer gauge-check skip strike \
    call answer unjudged condemned overrule concession mentor resume sign return remark-answered \
    countersign seen-outside brought opening gauge person level given part plan";

#[test]
fn the_sample_record_is_read_and_written_back_byte_for_byte() {
    let path = std::path::PathBuf::from(format!("{FOLDER}{RECORD}"));
    let opened = open(&path).unwrap_or_else(|problems| panic!("{problems}"));
    assert_eq!(opened.trust, Trust::Whole);
    assert_eq!(opened.inspection.head(), &head());
    let mut text = head_text(opened.inspection.head());
    for (entry, chain) in opened.inspection.entries().iter().zip(&opened.chains) {
        text.push_str(&entry_text(entry));
        text.extend(["  chain: \"", chain, "\"\n"]);
    }
    same_lines(RECORD, &text, &std::fs::read_to_string(path).unwrap());
}

#[test]
fn nothing_is_wrong_with_the_sample_folder() {
    let store = asfound::records::store::Store::at(FOLDER);
    let verified = asfound::records::verify::verify(&store, &[format!("{FOLDER}{RECORD}").into()]).remove(0);
    assert!(verified.is_fine(), "{:?}", verified.faults());
    let checked = asfound::records::check::check_folder(&store);
    assert_eq!(checked.first_line(), "2 readings in 1 record, 0 problems", "{}", checked.text());
}
