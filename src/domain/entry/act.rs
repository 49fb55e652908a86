//! What an entry's kind says of itself: its word in files, the step or part it is about, whether it may be struck.

use super::super::inspection::Opening;
use super::{Act, PhotoRef};

impl Act {
    /// That somebody has seen a change from `entry` on; 0 of turned line ends. The file adds what it was like.
    pub fn seen(entry: u32, note: String) -> Self {
        Self::SeenOutside { from: Some(entry).filter(|entry| *entry > 0), note, length: None, sha256: None }
    }

    /// The kind's word in files.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Begin => "begin",
            Self::Confirm { .. } => "confirm",
            Self::NotApplicable { .. } => "not-applicable",
            Self::Tick { .. } => "tick",
            Self::Reading { .. } => "reading",
            Self::Repeat { .. } => "repeat",
            Self::Finding(_) => "finding",
            Self::Looked { .. } => "looked",
            Self::Photo { .. } => "photo",
            Self::Note { .. } => "note",
            Self::Timer { .. } => "timer",
            Self::GaugeCheck { .. } => "gauge-check",
            Self::Skip { .. } => "skip",
            Self::Strike { .. } => "strike",
            Self::Call { .. } => "call",
            Self::Answer { .. } => "answer",
            Self::Unjudged { .. } => "unjudged",
            Self::Condemned { .. } => "condemned",
            Self::Overrule { .. } => "overrule",
            Self::Concession { .. } => "concession",
            Self::Mentor { .. } => "mentor",
            Self::Resume => "resume",
            Self::Sign(_) => "sign",
            Self::Return { .. } => "return",
            Self::RemarkAnswered { .. } => "remark-answered",
            Self::Countersign { .. } => "countersign",
            Self::SeenOutside { .. } => "seen-outside",
            Self::Brought { .. } => "brought",
            Self::Opening(_) => "opening",
            Self::Gauge(_) => "gauge",
            Self::Person(_) => "person",
            Self::Given { .. } => "given",
            Self::Level { .. } => "level",
            Self::PartFitted { .. } => "part",
            Self::Plan { .. } => "plan",
        }
    }

    /// Whether it says at how many hours the next opening is.
    pub fn plans_hours(&self) -> bool {
        matches!(self, Self::Plan { hours: Some(_), .. })
            || matches!(self, Self::Opening(opening) if opening.next_hours.is_some())
    }

    /// The step it is about.
    pub fn step(&self) -> Option<&str> {
        match self {
            Self::Confirm { step, .. }
            | Self::NotApplicable { step, .. }
            | Self::Tick { step }
            | Self::Reading { step, .. }
            | Self::Repeat { step, .. }
            | Self::Looked { step }
            | Self::Timer { step, .. }
            | Self::Skip { step, .. } => Some(step),
            Self::Finding(finding) => Some(&finding.step),
            Self::Photo { step, .. } | Self::Note { step, .. } => step.as_deref(),
            Self::Begin
            | Self::GaugeCheck { .. }
            | Self::Strike { .. }
            | Self::Call { .. }
            | Self::Answer { .. }
            | Self::Unjudged { .. }
            | Self::Condemned { .. }
            | Self::Overrule { .. }
            | Self::Concession { .. }
            | Self::Mentor { .. }
            | Self::Resume
            | Self::Sign(_)
            | Self::Return { .. }
            | Self::RemarkAnswered { .. }
            | Self::Countersign { .. }
            | Self::SeenOutside { .. }
            | Self::Brought { .. }
            | Self::Opening(_)
            | Self::Gauge(_)
            | Self::Person(_)
            | Self::Given { .. }
            | Self::Level { .. }
            | Self::PartFitted { .. }
            | Self::Plan { .. } => None,
        }
    }

    /// The part it is about, where it is about no step.
    pub fn part(&self) -> Option<&str> {
        if let Self::Call { part, .. }
        | Self::Condemned { part, .. }
        | Self::Overrule { part, .. }
        | Self::Concession { part, .. }
        | Self::PartFitted { part, .. } = self
        {
            Some(part)
        } else {
            None
        }
    }

    /// Whether it may be signed by key, by who made it: a signature, and what a supervisor says to one.
    pub fn takes_key(&self) -> bool {
        matches!(self, Self::Sign(_) | Self::Countersign { .. } | Self::Return { .. })
    }

    /// Doubts that were insisted on in it, by their words.
    pub fn doubts(&self) -> &[String] {
        if let Self::Reading { doubts, .. } | Self::Level { doubts, .. } = self {
            return doubts;
        }
        if let Self::PartFitted { fitted, .. } = self {
            return &fitted.doubts;
        }
        if let Self::Opening(opening) = self { &opening.doubts } else { &[] }
    }

    /// The photos that it names.
    pub fn photos(&self) -> &[PhotoRef] {
        if let Self::Photo { photo, .. } = self {
            return std::slice::from_ref(photo);
        }
        if let Self::Finding(finding) = self { &finding.photos } else { &[] }
    }

    /// Whether it is what a step takes, or says that it is left out: what a picture or a finding at it is not.
    pub fn does_step(&self) -> bool {
        self.step().is_some() && !matches!(self, Self::Finding(_) | Self::Photo { .. })
    }

    /// Whether it plans the next opening, anew or for the first time.
    pub fn plans_next(&self) -> bool {
        let planned = |opening: &Opening| opening.next_hours.is_some() || opening.next_date.is_some();
        matches!(self, Self::Plan { .. }) || matches!(self, Self::Opening(later) if planned(later))
    }

    /// Whether it may be struck: what others rest on by name may not.
    pub fn can_be_struck(&self) -> bool {
        match self {
            Self::Begin
            | Self::Strike { .. }
            | Self::Sign(_)
            | Self::Return { .. }
            | Self::RemarkAnswered { .. }
            | Self::Countersign { .. }
            | Self::SeenOutside { .. }
            | Self::Brought { .. }
            | Self::Mentor { .. }
            | Self::Opening(_)
            | Self::Gauge(_)
            | Self::Person(_)
            | Self::Plan { .. } => false,
            Self::Confirm { .. }
            | Self::Resume
            | Self::NotApplicable { .. }
            | Self::Tick { .. }
            | Self::Reading { .. }
            | Self::Repeat { .. }
            | Self::Finding(_)
            | Self::Looked { .. }
            | Self::Photo { .. }
            | Self::Note { .. }
            | Self::Timer { .. }
            | Self::GaugeCheck { .. }
            | Self::Skip { .. }
            | Self::Call { .. }
            | Self::Answer { .. }
            | Self::Unjudged { .. }
            | Self::Condemned { .. }
            | Self::Overrule { .. }
            | Self::Concession { .. }
            | Self::Given { .. }
            | Self::Level { .. }
            | Self::PartFitted { .. } => true,
        }
    }
}
