//! A save that failed: what is said, what is not taken, and the ways out.

use insta::assert_snapshot;

use super::bench::{Bench, Disk, Ended};

#[test]
fn a_full_disk_is_said_and_nothing_typed_meanwhile_is_taken() {
    let mut bench = Bench::demo();
    bench.walks_to("running/load").hears();
    bench.disk = Disk::Full;
    bench.types(&["85", "16950"]);
    let taken = bench.saved.len();
    bench.disk = Disk::Room;
    bench.types(&[""]);
    assert_eq!(bench.saved.len(), taken + 1, "the figure that waited, and no other");
    assert_snapshot!(bench.hears());
}

#[test]
fn what_cannot_be_saved_here_goes_elsewhere_or_is_lost_by_its_word_alone() {
    let mut bench = Bench::demo();
    bench.walks_to("running/load");
    bench.disk = Disk::Full;
    let taken = bench.saved.len();
    bench.types(&["85"]).hears();
    bench.types(&["leave", "folder", "copy stick"]);
    let heard = bench.hears();
    assert!(heard.contains("`leave` was not taken") && heard.contains("`folder` wants the path"), "{heard}");
    assert!(heard.contains("0 saved, 1 NOT. A copy with all that waits: 1 in stick."), "{heard}");
    bench.types(&["folder 'full'"]);
    assert!(bench.hears().contains("0 saved, 1 NOT. No room there either."));
    assert_eq!((bench.saved.len(), bench.left), (taken, Ended::No));
    let mut left = bench.clone();
    left.types(&["lose"]);
    assert_eq!((left.saved.len(), left.left), (taken, Ended::Left));
    bench.types(&["folder stick"]);
    assert_eq!(bench.saved.len(), taken + 1);
    assert!(bench.hears().contains("1 saved"));
}
