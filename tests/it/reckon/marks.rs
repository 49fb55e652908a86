//! Indications, and bolts around a flange.

use asfound::domain::exact::Exact;
use asfound::domain::reckon::indication::{Group, Lying, group};
use asfound::domain::reckon::torque::star;
use proptest::prelude::*;

use super::{at, exact, exact_at, reckoned, rows, tried};

/// ISO 23277:2015 clause 3 (from memory), `indications.csv`: exactly three times is rounded, also where binary has it longer.
#[test]
fn iso_23277_classes() {
    for row in rows("indications") {
        let one = format!("indications=[{{length: {}, width: {}}}]", row["length_mm"], row["width_mm"]);
        assert_eq!(at(&reckoned("indication", &[one]), "indications.0.class"), row["class"], "{row:?}");
    }
}

fn lying(length: &str, width: &str, x: &str, y: &str, direction: &str) -> Lying {
    let [length, width, x, y, direction] = [length, width, x, y, direction].map(exact);
    Lying { length, width, x, y, direction }
}

fn members(groups: &[Group]) -> Vec<Vec<usize>> {
    groups.iter().map(|group| group.members.clone()).collect()
}

/// made for this project, by hand: the clear distance counts, not that of the middles.
#[test]
fn groups_are_by_the_distance_of_the_edges() {
    // two lines end to end: middles 7 apart, edges 2
    let ends = [lying("5", "1", "0", "0", "0"), lying("5", "1", "7", "0", "180")];
    assert_eq!(members(&group(&ends, &exact("2"))), [vec![1], vec![2]], "2 is not nearer than 2");
    let near = group(&ends, &exact("2.01"));
    assert_eq!(members(&near), [vec![1, 2]]);
    assert!((near[0].length - 12.0).abs() < 1e-12, "{near:?}");
    // the same two side by side, 7 apart: edges 6
    let beside = [lying("5", "1", "0", "0", "90"), lying("5", "1", "7", "0", "90")];
    assert_eq!(members(&group(&beside, &exact("6"))), [vec![1], vec![2]]);
    assert_eq!(members(&group(&beside, &exact("6.1"))), [vec![1, 2]]);
    // crossing lines overlap; a third joins through the second
    let crossing = [
        lying("10", "0.2", "0", "0", "45"),
        lying("1", "1", "20", "20", "0"),
        lying("10", "0.2", "0", "0", "135"),
        lying("1", "1", "3", "0", "0"),
        lying("1", "1", "5", "0", "0"),
    ];
    assert_eq!(members(&group(&crossing, &exact("2.5"))), [vec![1, 3, 4, 5], vec![2]]);
}

#[test]
fn groups_need_to_know_where_and_which_way() {
    let given = ["indications=[{length: 3, width: 1, x: 0}, {length: 1, width: 1, x: 0, y: 1}]", "gap=1"];
    let problems = tried("indication", &given.map(str::to_owned)).unwrap_err();
    let keys: Vec<_> = problems.iter().map(|problem| problem.key.as_str()).collect();
    assert_eq!(keys, ["indications 1, y", "indications 1, direction"]);
    let wide = tried("indication", &["indications=[{length: 1, width: 3}]".to_owned()]).unwrap_err();
    assert_eq!(wide[0].key, "indications 1, length");
}

/// NIST SP 811:2008 factors: stages in both units, as `units_values.csv` has them.
#[test]
fn torque_in_both_units() {
    let answers = reckoned("torque", &["value=30 lbf.ft", "stages=50; 100"].map(str::to_owned));
    assert_eq!(exact_at(&answers, "stages.1.n_m"), exact("40.674538449942012"));
    assert_eq!(exact_at(&answers, "stages.0.lbf_ft"), exact("15"));
    assert_eq!(at(&answers, "order"), "none");
    for (given, keys) in [
        (&["value=30"][..], &["value"][..]),
        (&["value=30 mm", "stages=100; 50"], &["stages", "value"]),
        (&["value=30 N m", "stages=50; 120"], &["stages 2"]),
        (&["value=30 N m", "bolts=0"], &["bolts"]),
    ] {
        let given: Vec<_> = given.iter().map(|word| (*word).to_owned()).collect();
        let problems = tried("torque", &given).unwrap_err();
        assert_eq!(problems.iter().map(|problem| problem.key.as_str()).collect::<Vec<_>>(), keys, "{given:?}");
    }
}

/// common practice, no source.
#[test]
fn star_orders_of_usual_flanges() {
    assert_eq!(star(4), [1, 3, 2, 4]);
    assert_eq!(star(5), [1, 3, 5, 2, 4]);
    assert_eq!(star(6), [1, 4, 2, 5, 3, 6]);
    assert_eq!(star(8), [1, 5, 3, 7, 2, 6, 4, 8]);
    assert_eq!(star(12), [1, 7, 4, 10, 2, 8, 5, 11, 3, 9, 6, 12]);
    assert_eq!((star(1), star(2), star(3)), (vec![1], vec![1, 2], vec![1, 2, 3]));
}

proptest! {
    #[test]
    fn a_star_takes_every_bolt_once_and_crosses_over(bolts in 1_usize..200) {
        let order = star(bolts);
        let mut sorted = order.clone();
        sorted.sort_unstable();
        prop_assert_eq!(sorted, (1..=bolts).collect::<Vec<_>>());
        for pair in order.windows(2).step_by(2).filter(|_| bolts % 2 == 0) {
            prop_assert_eq!(pair[1], pair[0] + bolts / 2, "opposite bolts follow each other");
        }
    }

    #[test]
    fn a_wider_gap_never_parts_a_group(
        places in prop::collection::vec((0_i64..100, 0_i64..100, 0_i64..180, 0_i64..9), 1..12),
        gap in 0_i64..30,
        more in 0_i64..30,
    ) {
        let one = |(x, y, direction, length): &(i64, i64, i64, i64)| Lying {
            length: Exact::whole(1 + *length), width: Exact::whole(1), x: Exact::whole(*x), y: Exact::whole(*y),
            direction: Exact::whole(*direction),
        };
        let all: Vec<_> = places.iter().map(one).collect();
        let narrow = group(&all, &Exact::whole(gap));
        let wide = group(&all, &Exact::whole(gap + more));
        prop_assert_eq!(narrow.iter().map(|group| group.members.len()).sum::<usize>(), all.len());
        for group in &narrow {
            prop_assert!(wide.iter().any(|other| group.members.iter().all(|member| other.members.contains(member))));
        }
    }
}
