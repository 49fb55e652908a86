//! What names a step, what is judged and what can hurt stands whole at 80 by 24, at every step of every scope.

use asfound::domain::checklist::Takes;
use asfound::domain::entry::Act;
use asfound::domain::inspection::Inspection;
use asfound::domain::phase::Phase;
use asfound::records::checklist_file::built_in;

use super::Bench;
use super::demo;
use crate::rig::Rig;

/// A scope with the machine made safe, so that each step says what is its own.
pub(super) fn safe(scope: &str) -> Inspection {
    let mut head = demo::up_to("job/papers").head().clone();
    head.checklist = built_in(scope).unwrap().unwrap();
    let mut rig = Rig::with(head);
    for step in rig.inspection.head().checklist.steps.clone() {
        if let (Phase::Safe, Takes::Points(points)) = (step.phase, &step.takes) {
            for point in points {
                let (step, point) = (step.id.clone(), point.id.clone());
                rig.take(Act::Confirm { step, point });
            }
        }
    }
    rig.inspection
}

#[test]
fn no_title_no_judged_row_and_no_line_of_a_shut_step_is_cut() {
    let (mut cut, mut unsaid, mut late) = (Vec::new(), Vec::new(), Vec::new());
    let (mut seen, mut all, mut shortened) = (0, 0, 0);
    for scope in ["overhaul", "bearing", "cleaning"] {
        let inspection = safe(scope);
        let mut bench = Bench::on(inspection.clone());
        for step in asfound::domain::progress::steps(&inspection) {
            all += 1;
            bench = bench.keys("esc 6").typed(&step.id).keys("enter");
            let screen = bench.screen();
            seen += usize::from(screen.contains(&step.title));
            // the phase gives way to the title, and nothing else to it
            let place = screen.lines().nth(1).unwrap_or_default().to_owned();
            let here = screen.contains(&step.title) || place.contains('…');
            late.extend((!place.contains(step.phase.title()) && here).then(|| place.clone()));
            shortened += usize::from(place.contains('…'));
            // what can hurt a hand stands there too, in one row
            let caution = step.caution.as_ref().filter(|_| screen.contains(&step.title));
            unsaid.extend(caution.filter(|caution| !screen.contains(&format!("! {caution}"))).map(|_| step.id.clone()));
            let lines = screen.lines().filter(|line| line.contains('…') && **line != place);
            cut.extend(lines.map(|line| format!("{scope}, {}: {line}", step.id)));
        }
    }
    // an id that others begin with leads to the first of them
    assert!(seen + 20 > all && all > 400 && shortened == 0, "{seen} and {shortened} of {all}");
    assert!(late.len() < 20, "{late:?}");
    assert_eq!((cut, unsaid), (Vec::<String>::new(), Vec::<String>::new()));
}
