//! Plays an answers file of the demonstration through `decide`, line by line, the way its head describes.

use asfound::domain::apply::apply;
use asfound::domain::checklist::Takes;
use asfound::domain::decide::decide;
use asfound::domain::entry::{Act, FindingMade, Replaces, TimerMark};
use asfound::domain::inspection::{Arrives, Head, Inspection, Manual, Past, Scene};
use asfound::domain::request::{Decision, Hand, Request};
use asfound::domain::rotor::Fitted;
use asfound::domain::stamp::day;
use asfound::domain::taken_out::taken_out_after;
use asfound::records::checklist_file::built_in;
use asfound::records::instrument_file::read_instrument;
use asfound::records::people_file::read_people;
use asfound::records::rotor_file::read_rotor;
use asfound::records::sheet_file::read_sheet;

use crate::rig::{Rig, figure, id, stamp};

pub(super) fn file(name: &str) -> String {
    let path = format!("{}/assets/demo/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|fault| panic!("{path}: {fault}"))
}

/// The lines of an answers file as fields.
pub(super) fn lines(name: &str) -> Vec<Vec<String>> {
    let answers = |line: &str| !line.trim().is_empty() && !line.starts_with('#');
    let text = file(&format!("{name}.answers"));
    let lines = text.lines().filter(|line| answers(line));
    lines.map(|line| line.split(" | ").map(str::to_owned).collect()).collect()
}

/// The head of an inspection of the demonstration rotor, before its first answer.
pub(super) fn head(name: &str, before: Option<&Inspection>, history: Vec<Past>) -> Head {
    let rotor = read_rotor("DEMO-1.yaml", file("DEMO-1.yaml").as_bytes()).unwrap();
    let gauges = "M1 M2 M3 D1 D2 D3 B1 C1 C2 F1 T1 G1 W1 X1".split(' ');
    let gauge = |name: &str| {
        let path = format!("instruments/{name}.yaml");
        read_instrument(&path, file(&path).as_bytes()).unwrap_or_else(|problems| panic!("{problems}"))
    };
    let mut parts = rotor.parts.clone();
    for (part, fitted) in &mut parts {
        if let Some(now) = before.and_then(|before| before.fitted(part)) {
            *fitted = now.clone();
        }
    }
    let date = name.split_once('-').unwrap().1;
    Head {
        id: format!("DEMO-1/{date}-overhaul"),
        begun: stamp(&format!("{date}T07:00:00+02:00")),
        by: id("fitter-a"),
        scene: Scene::Invented,
        previous: None,
        opened: Default::default(),
        checklist: built_in("overhaul").unwrap().unwrap_or_else(|problems| panic!("{problems}")),
        sheet: Some(
            read_sheet("INV-420.yaml", file("INV-420.yaml").as_bytes()).unwrap_or_else(|problems| panic!("{problems}")),
        ),
        instruments: gauges.map(gauge).collect(),
        people: read_people("people.yaml", file("people.yaml").as_bytes()).unwrap(),
        history,
        carried: before.map(asfound::domain::carried::carried_on).unwrap_or_default(),
        taken_out: before.map(|one| taken_out_after(Vec::new(), one)).unwrap_or_default(),
        parts,
        rotor,
    }
}

/// Everything of one answers file, taken; panics at the first answer that is asked about or refused.
pub(super) fn play(name: &str, before: Option<&Inspection>, history: Vec<Past>) -> Inspection {
    let mut head = head(name, before, history);
    let (opening, work): (Vec<_>, Vec<_>) = lines(name).into_iter().partition(|line| line[0] == "opening");
    for line in &opening {
        open(&mut head, &line[1], &line[2]);
    }
    let hand = Hand { by: head.by.clone(), writer: None, at: head.begun, late: None, break_hours: 4 };
    let mut player = Player { inspection: Inspection::new(head), hand };
    player.enter(&Request::Do(Act::Begin), "begin");
    for line in work {
        player.line(&line);
    }
    player.inspection
}

fn open(head: &mut Head, what: &str, text: &str) {
    let opened = &mut head.opened;
    match what {
        "by" => head.by = id(text),
        "serial" => assert_eq!(head.rotor.serial, text),
        "reason" => opened.reason = Some(text.to_owned()),
        "arrives" => opened.arrives = Some(Arrives::parse(text).unwrap()),
        "machine hours" => opened.machine_hours = Some(figure(text)),
        "manual" => {
            opened.manual =
                Some(Manual { title: text.to_owned(), edition: String::new(), checked: day("2020-01-01").unwrap() });
        }
        "edition" => opened.manual.as_mut().unwrap().edition = text.to_owned(),
        "checked" => opened.manual.as_mut().unwrap().checked = day(text).unwrap(),
        "letters" => opened.letters = Some(text.to_owned()),
        "next hours" => opened.next_hours = Some(figure(text)),
        "next date" => opened.next_date = Some(day(text).unwrap()),
        other => panic!("no opening answer `{other}`"),
    }
}

struct Player {
    inspection: Inspection,
    hand: Hand,
}

impl Player {
    fn enter(&mut self, request: &Request, line: &str) {
        match decide(&self.inspection, request, &self.hand) {
            Decision::Take(entry) => drop(apply(&mut self.inspection, *entry)),
            other => panic!("{line}: {other:?}"),
        }
    }

    fn line(&mut self, line: &[String]) {
        let fields: Vec<&str> = line.iter().map(String::as_str).collect();
        match fields.as_slice() {
            ["hand", reads, writes] => {
                self.hand.by = id(reads);
                self.hand.writer = Some(id(writes));
            }
            ["clock", moment] => {
                assert!(stamp(moment) >= self.hand.at, "{moment}: the clock goes back");
                self.hand.at = stamp(moment);
            }
            [step, "confirm"] => {
                let Takes::Points(points) = &self.inspection.head().checklist.step(step).unwrap().takes else {
                    panic!("{step}: no points")
                };
                for point in points.clone() {
                    self.enter(&Request::Do(Act::Confirm { step: (*step).into(), point: point.id }), step);
                }
            }
            [step, "sign", by] => {
                let before = self.hand.by.clone();
                self.hand.by = id(by);
                let Takes::Sign(what) = self.inspection.head().checklist.step(step).unwrap().takes else {
                    panic!("{step}: nothing to sign")
                };
                self.enter(&Request::Do(Act::Sign(Rig::signature(what, &[]))), step);
                self.hand.by = before;
            }
            [step, "countersign", by] => {
                let before = (self.hand.by.clone(), self.hand.writer.take());
                self.hand.by = id(by);
                let sign = self.inspection.entries().last().unwrap().number;
                self.enter(&Request::Do(Act::Countersign { sign, chain: String::new() }), step);
                (self.hand.by, self.hand.writer) = before;
            }
            fields => {
                let request = self.request(fields);
                self.enter(&request, &fields.join(" | "));
            }
        }
    }

    fn request(&self, fields: &[&str]) -> Request {
        let own = |text: &str| text.to_owned();
        let place = |text: &str| (text != "-").then(|| text.to_owned());
        let act = match fields {
            ["resume"] => Act::Resume,
            [step, "confirm", point] => Act::Confirm { step: own(step), point: own(point) },
            [step, "not applicable", point, why] => {
                Act::NotApplicable { step: own(step), point: place(point), reason: own(why) }
            }
            [step, "tick"] => Act::Tick { step: own(step) },
            [step, "looked"] => Act::Looked { step: own(step) },
            [step, "finding", kind, grade, details] => Act::Finding(FindingMade {
                part: own(step.split_once('/').unwrap().0),
                step: own(step),
                kind: own(kind),
                grade: own(grade),
                details: detail(details),
                ..FindingMade::default()
            }),
            [step, "in"] => Act::Timer { step: own(step), mark: TimerMark::Started },
            [step, "out"] => Act::Timer { step: own(step), mark: TimerMark::Ended },
            [step, "words" | "note", text] => Act::Note { step: Some(own(step)), text: own(text) },
            [step, "skip", at, why] => Act::Skip { step: own(step), place: place(at), reason: own(why) },
            [part, "fitted", serial] => Act::PartFitted {
                part: own(part),
                fitted: Fitted {
                    serial: serial.strip_prefix("serial=").map(own),
                    hours: figure("0 h"),
                    machine: self.inspection.opening().machine_hours.unwrap(),
                    doubts: Vec::new(),
                },
                replaces: Replaces::Yes,
            },
            [step, place, text, gauge] => {
                return Request::Reading {
                    step: own(step),
                    place: own(place),
                    text: own(text),
                    gauge: (*gauge != "-").then(|| id(gauge)),
                    insisted: vec![],
                };
            }
            other => panic!("no answer: {other:?}"),
        };
        Request::Do(act)
    }
}

/// `number=7 place=22 mm from the tip`: a detail's text runs to the next detail word.
fn detail(text: &str) -> std::collections::BTreeMap<String, String> {
    let mut details = std::collections::BTreeMap::new();
    let mut last = String::new();
    for word in text.split(' ') {
        if let Some((name, value)) = word.split_once('=') {
            last = name.to_owned();
            details.insert(last.clone(), value.to_owned());
        } else {
            let so_far = details.get_mut(&last).unwrap();
            *so_far = format!("{so_far} {word}");
        }
    }
    details
}

/// The three inspections, each with the history of those before.
pub(crate) fn three() -> Vec<Inspection> {
    let mut all: Vec<Inspection> = Vec::new();
    let mut history = Vec::new();
    for name in ["1-2020-05-12", "2-2022-06-08", "3-2024-07-12"] {
        let inspection = play(name, all.last(), history.clone());
        history.extend(asfound::domain::standing::past_of(&inspection));
        all.push(inspection);
    }
    all
}
