//! The program itself in a terminal of its own, killed in the middle of a figure: nothing waits for a time, only for the
//! screen and the file.

use std::io::{Read, Write};
use std::num::NonZero;
use std::path::Path;
use std::process::Command;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use tempfile::TempDir;

use crate::plain::verbs::asfound;
use crate::review::shelf::Shelf;

/// Longer than any machine takes; only a test that fails waits so long.
const PATIENCE: Duration = Duration::from_secs(120);

struct Terminal {
    child: Box<dyn Child + Send + Sync>,
    keys: Box<dyn Write + Send>,
    output: Receiver<Vec<u8>>,
    screen: vt100::Parser,
    _pty: Box<dyn MasterPty + Send>,
}

impl Terminal {
    /// Goes on with the only open record of a folder.
    fn resume(data: &Path) -> Self {
        Self::run(data, &["resume"])
    }

    fn run(data: &Path, words: &[&str]) -> Self {
        let size = PtySize { rows: 24, cols: 80, pixel_width: 0, pixel_height: 0 };
        let pty = native_pty_system().openpty(size).unwrap();
        let mut command = CommandBuilder::new(assert_cmd::cargo::cargo_bin("asfound"));
        command.arg("--data");
        command.arg(data);
        command.args(words);
        command.env("TERM", "xterm-256color");
        let child = pty.slave.spawn_command(command).unwrap();
        drop(pty.slave);
        let (mut reader, keys) = (pty.master.try_clone_reader().unwrap(), pty.master.take_writer().unwrap());
        let (sender, output) = channel();
        std::thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(count @ 1..) = reader.read(&mut bytes) {
                if sender.send(bytes[..count].to_vec()).is_err() {
                    break;
                }
            }
        });
        Self {
            child,
            keys,
            output,
            screen: vt100::Parser::new(NonZero::new(24).unwrap(), NonZero::new(80).unwrap(), 0),
            _pty: pty.master,
        }
    }

    /// Until these words stand on the screen.
    #[track_caller]
    fn shows(&mut self, words: &str) {
        let begun = Instant::now();
        while !self.screen.screen().contents().contains(words) {
            // a screen that goes on painting something else is given up too
            let bytes = self.output.recv_timeout(PATIENCE.saturating_sub(begun.elapsed()));
            let bytes = bytes.unwrap_or_else(|_| panic!("no `{words}`:\n{}", self.screen.screen().contents()));
            self.screen.process(&bytes);
        }
    }

    fn types(&mut self, text: &str) {
        self.keys.write_all(text.as_bytes()).unwrap();
        self.keys.flush().unwrap();
    }

    /// Enter by hand: later than a gauge would send it.
    fn enters(&mut self) {
        while let Ok(bytes) = self.output.recv_timeout(Duration::from_millis(100)) {
            self.screen.process(&bytes);
        }
        self.types("\r");
    }

    /// Killed as by a machine that gives it no word.
    fn killed(mut self) {
        let id = self.child.process_id().unwrap().to_string();
        assert!(Command::new("kill").args(["-9", &id]).status().unwrap().success());
        self.child.wait().unwrap();
    }
}

/// Until a file below the folder has this name and holds these words.
fn holds(folder: &Path, name: &str, words: &str) {
    let begun = Instant::now();
    let found = || {
        let records = std::fs::read_dir(folder).into_iter().flatten().flatten();
        records.map(|one| one.path().join(name)).any(|path| {
            let text = std::fs::read_to_string(path).unwrap_or_default();
            text.contains(words)
        })
    };
    while !found() {
        assert!(begun.elapsed() < PATIENCE, "no {name} holds `{words}`");
        std::thread::yield_now();
    }
}

#[test]
fn a_half_typed_figure_is_in_its_field_again_after_a_kill() {
    let folder = TempDir::new().unwrap();
    let begin = ["begin", "TRY-7", "--invented", "--later", "--hours", "1200", "--checklist", "bearing"];
    let answers = "INV-900\nS-42\n\nnew\nfit-1\nfitter one\nfitter\ndone\n";
    let (code, out, err) = asfound(folder.path(), &begin, answers);
    assert_eq!(code, 0, "{out}{err}");
    let mut bench = Terminal::resume(folder.path());
    bench.shows("Enter take");
    bench.types("8");
    bench.shows("[ 8_");
    holds(&folder.path().join("rotors/TRY-7"), "draft.yaml", "text: \"8\"");
    bench.killed();
    let mut again = Terminal::resume(folder.path());
    again.shows("[ 8_");
    again.types("5\r");
    again.shows("85 % taken");
    again.shows("1 saved");
    again.types("\u{11}");
    assert!(again.child.wait().unwrap().success());
}

#[test]
fn a_half_typed_countersignature_return_and_concession_are_in_their_fields_again_after_a_kill() {
    for (line, asked, typed) in
        [("1", "who does it", "super"), ("2", "what is asked there", "which"), ("4", "about", "shaf")]
    {
        let (shelf, path) = Shelf::signed();
        let open = || Terminal::run(shelf.root(), &["review", path.to_str().unwrap()]);
        let mut review = open();
        review.shows("WILL IT LAST?");
        review.types("\u{1b}");
        review.shows("what else: a digit");
        review.types(line);
        review.shows(asked);
        review.types(typed);
        review.shows(&format!("[ {typed}_"));
        // whole: the name on offer begins with the same letters, and is kept from the form's first moment
        holds(&shelf.root().join("rotors/DEMO-1"), "review.draft.yaml", &format!("\"{typed}\""));
        review.killed();
        let mut again = open();
        if line == "1" {
            // nobody comes to a countersignature before the first page
            again.shows("left half answered: Esc, and its digit");
            again.types("\u{1b}");
            again.shows("what else: a digit");
            again.types(line);
        }
        again.shows(&format!("[ {typed}_"));
        again.types("\u{11}");
        drop(again.child.wait());
    }
}

#[test]
fn line_by_line_the_half_answered_decision_is_taken_up_again_after_a_kill() {
    let (shelf, path) = Shelf::signed();
    let file = path.to_str().unwrap();
    let (_, pages, _) = asfound(shelf.root(), &["review", file, "--plain"], "");
    let line = pages.lines().find(|line| line.contains(" > step wear")).unwrap();
    let number = line.split(' ').next().unwrap();
    let open = || Terminal::run(shelf.root(), &["review", file, "--plain", "--as", "supervisor-b"]);
    let mut review = open();
    for (answer, asked) in
        [("concession", "A concession about which line?"), (number, "who gave it?"), ("the maker", "which document?")]
    {
        review.types(&format!("{answer}\r"));
        review.shows(asked);
    }
    review.killed();
    let mut again = open();
    again.types("concession\r");
    again.shows("go on, or again?");
    again.types("go on\r");
    again.shows("which document?");
    // a return: its remark is kept, and told before it is sent
    again.types("leave\rsend back\r3.1\rwhich side?\r");
    again.shows("Another remark:");
    again.killed();
    let mut again = open();
    again.types("send back\r");
    again.shows("Not sent yet: which side?");
    again.killed();
}

/// `fill NAME --second` in a terminal: blind, compared, both names.
#[test]
fn a_sheet_is_typed_a_second_time_in_a_terminal() {
    let folder = TempDir::new().unwrap();
    let sheet = "INV-9\nmaker\nINV-9 manual\n1\n\nfitter-k\n\n\ny\n0.3..0.5\n4\n!\n!\n";
    let (code, out, err) = asfound(folder.path(), &["fill", "sheets"], sheet);
    assert!(code == 0 && out.contains("saved, in use"), "{out}{err}");
    let people = "fitter-k\nfitter K\nfi\n\nsupervisor-m\nsupervisor M\nsu\n\n!\n";
    assert_eq!(asfound(folder.path(), &["fill", "people"], people).0, 0);
    let mut form = Terminal::run(folder.path(), &["fill", "sheets", "INV-9", "--second", "supervisor-m"]);
    form.shows("second entry, blind");
    assert!(!form.screen.screen().contents().contains("0.5"));
    // figures of the machine, what it lacks, then the levels
    form.types("\u{1b}[B\u{1b}[B");
    form.shows("\u{2500}\u{2500} levels");
    form.enters();
    form.shows("float");
    form.types("0.3..0.5");
    form.shows("[ 0.3..0.5_");
    form.enters();
    form.shows("0.3..0.5 mm");
    form.types("4");
    form.shows("[ 4_");
    form.enters();
    form.shows("page 4");
    form.types("\u{1b}");
    form.shows("\u{2500}\u{2500} levels");
    form.types("\u{1b}");
    form.shows("Both entries agree");
    holds(folder.path(), "INV-9.yaml", "entered by: [fitter-k, supervisor-m]");
    form.types("\u{11}");
    assert!(form.child.wait().unwrap().success());
}
