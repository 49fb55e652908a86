//! What is on the screen, and what stands in the record.

use asfound::domain::inspection::Inspection;
use asfound::face::model::Screen;
use asfound::face::view::view;
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use super::Bench;

impl Bench {
    /// The screen as text.
    pub(crate) fn screen(&self) -> String {
        let (columns, rows) = self.model.size;
        let mut terminal = Terminal::new(TestBackend::new(columns, rows)).unwrap();
        terminal.draw(|frame| view(&self.model, frame)).unwrap();
        let buffer = terminal.backend().buffer();
        let cells: Vec<&str> = buffer.content().iter().map(ratatui::buffer::Cell::symbol).collect();
        let lines = cells.chunks(usize::from(columns).max(1)).map(|line| line.concat().trim_end().to_owned());
        lines.collect::<Vec<_>>().join("\n")
    }

    #[track_caller]
    pub(crate) fn expect(self, words: &str) -> Self {
        let screen = self.screen();
        let flat = screen.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words), "`{words}` is not on the screen:\n{screen}");
        self
    }

    #[track_caller]
    pub(crate) fn expect_not(self, words: &str) -> Self {
        let screen = self.screen();
        assert!(!screen.contains(words), "`{words}` is on the screen:\n{screen}");
        self
    }

    /// The record as it stands so far.
    pub(crate) fn so_far(&self) -> &Inspection {
        let Some(job) = self.model.job() else { panic!("no record is open:\n{}", self.screen()) };
        &job.inspection
    }

    /// The record as it stands.
    pub(super) fn record(self) -> Inspection {
        let Screen::Job(job) = self.model.screen else { panic!("no record is open") };
        job.inspection
    }

    /// Entries of the record.
    pub(super) fn entries(&self) -> usize {
        self.so_far().entries().len()
    }
}
