//! The phases of the job, in the order in which they happen.

/// A stretch of the job; the order of the variants is the order of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Phase {
    /// Which rotor, why, by which manual.
    Open,
    /// Figures of the running machine, from the log or the last run.
    Before,
    /// Isolated, drained, tagged, cooled; nothing later may start before.
    Safe,
    /// Readings that the next strip step destroys.
    Found,
    /// Taking apart.
    Strip,
    /// Looked at before washing: soot and rub dust are evidence.
    Look1,
    /// Each part by the method its material allows.
    Clean,
    /// Looked at again, clean.
    Look2,
    /// Every reading.
    Measure,
    /// Decisions signed; opens the rebuild.
    Decide,
    /// Spares, questions to maker and class.
    Order,
    /// New parts checked before fitting.
    New,
    /// Put together, as-left readings.
    Rebuild,
    /// After the start.
    After,
    /// Causes, next due, the last signature.
    Close,
}

impl Phase {
    /// Every phase in order.
    pub const ALL: [Self; 15] = [
        Self::Open,
        Self::Before,
        Self::Safe,
        Self::Found,
        Self::Strip,
        Self::Look1,
        Self::Clean,
        Self::Look2,
        Self::Measure,
        Self::Decide,
        Self::Order,
        Self::New,
        Self::Rebuild,
        Self::After,
        Self::Close,
    ];

    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Before => "before",
            Self::Safe => "safe",
            Self::Found => "found",
            Self::Strip => "strip",
            Self::Look1 => "look1",
            Self::Clean => "clean",
            Self::Look2 => "look2",
            Self::Measure => "measure",
            Self::Decide => "decide",
            Self::Order => "order",
            Self::New => "new",
            Self::Rebuild => "rebuild",
            Self::After => "after",
            Self::Close => "close",
        }
    }

    /// What it is called on screens.
    pub fn title(self) -> &'static str {
        match self {
            Self::Before => "before stopping",
            Self::Safe => "make safe",
            Self::Found => "as found",
            Self::Look1 => "look before cleaning",
            Self::Look2 => "look again, clean",
            Self::New => "new parts",
            Self::After => "after the start",
            Self::Open
            | Self::Strip
            | Self::Clean
            | Self::Measure
            | Self::Decide
            | Self::Order
            | Self::Rebuild
            | Self::Close => self.word(),
        }
    }

    /// The phase a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|phase| phase.word() == word)
    }

    /// Whether readings of this phase show how the machine will run on: judged by the new range.
    pub fn is_as_left(self) -> bool {
        matches!(self, Self::New | Self::Rebuild | Self::After)
    }
}
