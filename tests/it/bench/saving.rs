//! Saves that fail: said on every screen, nothing is lost, three ways out.

use super::Bench;
use super::builder::Disk;

fn full() -> Bench {
    Bench::at_step("bush.ts/clearance").keys("esc 2 2").disk(Disk::Full)
}

#[test]
fn a_failed_save_is_never_called_saved() {
    full()
        .typed("0.020")
        .keys("enter")
        .expect("0 saved, 1 NOT")
        .expect("NOT SAVED, kept here: No space is left where the records lie.")
        .expect("Ctrl-Q: three ways out.")
        .expect("Make room, or go on in another folder.")
        .typed("0.228")
        .keys("enter")
        .expect("0 saved, 2 NOT");
}

#[test]
fn when_the_disk_works_again_all_that_waited_is_saved() {
    full()
        .typed("0.020")
        .keys("enter")
        .disk(Disk::Works)
        .typed("0.228")
        .keys("enter")
        .expect("2 saved")
        .expect_not("NOT");
}

#[test]
fn twenty_may_wait_and_then_three_ways_out_are_shown() {
    let mut bench = full();
    for _ in 0..10 {
        bench = bench.typed("0.020").keys("enter").typed("0.228").keys("enter");
    }
    let bench = bench.expect("20 entries NOT saved").expect("1 try again").expect("2 go on in another folder");
    let before = bench.entries();
    let bench = bench.keys("esc").typed("0.020").keys("enter").expect("20 entries NOT saved");
    assert_eq!(bench.entries(), before);
    bench.keys("2").typed("/mnt/stick").keys("enter").expect("20 saved").expect("Written to /mnt/stick.");
}

#[test]
fn leaving_with_something_unsaved_shows_the_ways_out_first() {
    let bench = full().typed("0.020").keys("enter ctrl-q").expect("1 entry NOT saved");
    assert_eq!(bench.status, None);
    let bench = bench.keys("4");
    assert_eq!(bench.status, Some(1));
}
