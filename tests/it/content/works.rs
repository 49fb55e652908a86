//! What the steps of the built-in checklists reckon besides, on the demonstration rotor's invented figures.

use asfound::domain::entry::Act;
use asfound::domain::request::Request;
use asfound::domain::telling;
use asfound::domain::worked::{Worked, of_step};

use super::holds::{fitted, safe, up_to};
use crate::rig::{Rig, said};

/// Opens the step: what it needs is left out.
fn open(rig: &mut Rig, id: &str) {
    let needs = rig.inspection.head().checklist.step(id).unwrap().needs.clone();
    for step in needs {
        open(rig, &step);
        let skip = Act::Skip { step, place: None, reason: "not in this test".to_owned() };
        if said(rig.may(skip.clone())) == "taken" {
            rig.take(skip);
        }
    }
}

fn told(rig: &Rig, id: &str) -> Vec<String> {
    of_step(&rig.inspection, rig.inspection.head().checklist.step(id).unwrap()).iter().map(Worked::words).collect()
}

fn working(rig: &Rig, id: &str) -> String {
    let step = rig.inspection.head().checklist.step(id).unwrap();
    telling::working_of_step(&rig.inspection, &rig.standing(), step).join("\n")
}

/// A journal of three lobes 0.006 mm high on a radius of 30 mm: cos 3 t is 1, 0, -1, 0 at every 30 degrees, so the circle is the
/// radius itself and the roundness twice the height. Geometry; a micrometer measures the same all round.
#[test]
fn a_journal_of_three_lobes_is_told_by_its_radii() {
    for side in ["cs", "ts"] {
        let id = format!("shaft/round.{side}");
        let mut rig = safe();
        up_to(&mut rig, &format!("shaft/diameter.{side}"));
        open(&mut rig, &id);
        for mark in 0..12_usize {
            assert!(told(&rig, &id).is_empty(), "{mark} of 12 radii");
            let radius = ["30.006", "30.000", "29.994", "30.000"][mark % 4];
            let (step, place, text) = (id.clone(), (30 * mark).to_string(), radius.to_owned());
            let decision = rig.ask(&Request::Reading { step, place, text, gauge: None, insisted: vec![] });
            rig.enter(decision);
        }
        assert_eq!(told(&rig, &id), ["r 30 mm, roundness 0.012 mm"]);
        let working = working(&rig, &id);
        assert!(working.contains("roundness = largest d - smallest d = 0.006 mm - (-0.006 mm)"), "{working}");
        assert!(rig.standing().of_step(&id).next().is_none(), "it judges nothing");
    }
}

/// 60 H7 is 60.000 to 60.030, 60 f7 is 59.940 to 59.970: ISO 286-2:2010.
#[test]
fn the_sizes_of_a_fit_stand_beside_the_journal_and_the_bore_that_are_measured() {
    let mut rig = safe();
    up_to(&mut rig, "spares/fits");
    rig.take(Act::Note { step: Some("spares/fits".into()), text: "60 H7/f7".into() });
    // a new shaft is measured once its number is known; a bore may be on the shelf
    rig.take(fitted("shaft"));
    for (id, place, size) in [("shaft/new-diameter.cs", "unworn 1", "59.951"), ("bush.cs/new-bore", "", "60.012")] {
        open(&mut rig, id);
        assert!(told(&rig, id).is_empty(), "{id}: not before it is measured");
        let cells = rig.inspection.head().checklist.step(id).unwrap();
        let first = asfound::domain::progress::cells(&rig.inspection, cells).remove(0).place();
        assert!(place.is_empty() || place == first, "{first}");
        let gauge = if place.is_empty() { "B1" } else { "M1" };
        let decision = rig.ask(&Rig::typed(id, &first, size, gauge, &[]));
        rig.enter(decision);
        assert_eq!(told(&rig, id), ["60 H7/f7: clearance 0.030 to 0.090 mm"]);
        let working = working(&rig, id);
        for size in ["60.030 mm", "59.940 mm", "59.970 mm"] {
            assert!(working.contains(size), "{size}: {working}");
        }
    }
}

/// Similar triangles: h = d0 (Lf - Lf0) / Lt0, the flat at a ratio r is (Lt0 + Lf0) / (1 + r).
#[test]
fn the_working_of_the_lands_shows_depth_tilt_and_the_flat_at_the_limit_and_each_working_has_a_result() {
    let played = &super::demo::played()[2];
    let standing = asfound::domain::standing::Standing::of(played);
    let step = standing.characteristics.iter().find(|one| one.characteristic.id() == "thrust.main.ratio").unwrap();
    let lines: Vec<_> = step.measured.working.iter().flat_map(|working| working.text_lines()).collect();
    let told = lines.join("\n");
    for words in
        ["transfer 1, all round", "transfer 2, all round", "tilt = ", "Lf at the limit", "h1 = d0 (Lf - Lf0) / Lt0"]
    {
        assert!(told.contains(words), "{words}: {told}");
    }
    for one in &standing.characteristics {
        for working in &one.measured.working {
            assert!(!working.result.is_empty(), "{} at {}", working.rule, one.step);
        }
    }
}

/// The demonstration's report, 15 and 84 g mm; its machine is known to 0.1 g mm of the certificate and its last digit.
#[test]
fn the_working_of_a_balancing_report_shows_what_its_machine_may_be_off() {
    let played = &super::demo::played()[2];
    let step = played.head().checklist.step("balance/report").unwrap();
    let working = telling::besides(played, step).join("\n");
    assert!(working.contains("u, rounded up to two figures") && working.contains("guard = factor x u"), "{working}");
    let standing = asfound::domain::standing::Standing::of(played);
    let judged = telling::working_of_step(played, &standing, step).join("\n");
    assert!(judged.contains("repeats/1  mean of the repeats"), "the mean has its own name: {judged}");
}
