//! What may be seen on a part: its kinds, grades with what they lead to, and the details that are asked.

use super::super::entitled::is_yes_or_no;
use super::super::refusal::{Refusal, RefusalKind};
use super::super::typed;
use super::super::unit::Unit;
use super::super::verdict::Consequence;

/// Something that may be seen on a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FindingKind {
    /// `scoring`; also the id within the part.
    pub kind: String,
    /// From mild to grave.
    pub grades: Vec<Grade>,
    /// What else is asked, in this order.
    pub asks: Vec<Ask>,
    /// Steps that it opens or holds open, by step id.
    pub obliges: Vec<String>,
    /// Never overruled toward the less safe side.
    pub crack: bool,
}

impl FindingKind {
    /// What a finding on one of many alike, a blade or a land, cannot do without, and `told` does not tell: which one,
    /// where on it, and one of its sizes.
    pub fn not_told(&self, told: impl Fn(Ask) -> bool) -> Vec<&'static str> {
        let is_size = |ask: &Ask| matches!(ask, Ask::Length | Ask::Width | Ask::Depth);
        let one = |ask| (self.asks.contains(&ask) && !told(ask)).then(|| ask.word());
        let mut sizes = self.asks.iter().copied().filter(is_size).peekable();
        let size = (sizes.peek().is_some() && !sizes.any(&told)).then_some("size");
        let counted = self.asks.contains(&Ask::Number);
        [one(Ask::Number), one(Ask::Place), size].into_iter().flatten().filter(|_| counted).collect()
    }

    /// All that a grade leads to, what disposes of the part first; a grade that is not there is referred, and a crack at
    /// least so. One that calls leads besides to the gravest that the milder grades before it do: an answer ends the call
    /// alone, and the graver find never comes to less than the milder.
    pub fn consequences(&self, grade: &str) -> Vec<Consequence> {
        let Some(at) = self.grades.iter().position(|one| one.grade == grade) else { return vec![Consequence::Refer] };
        let (milder, from) = self.grades.split_at(at);
        let mut all: Vec<_> = from.iter().take(1).flat_map(|one| one.leads_to.clone()).collect();
        let rank = |one: &Consequence| (one.at_least(), *one);
        if all.contains(&Consequence::Call) {
            let milder: Vec<_> = milder.iter().flat_map(|one| one.leads_to.iter().copied()).collect();
            let refers = self.crack || milder.contains(&Consequence::Refer);
            all.extend(milder.into_iter().max_by_key(rank));
            all.extend(refers.then_some(Consequence::Refer));
        }
        all.retain(|one| !self.crack || one.suits_a_crack());
        all.sort_by_key(|one| std::cmp::Reverse(rank(one)));
        all.dedup();
        if all.is_empty() { vec![Consequence::Refer] } else { all }
    }

    /// All that a grade leads to: `replace and call`.
    pub fn leads_to_in_words(&self, grade: &str) -> String {
        in_words(&self.consequences(grade))
    }

    /// The first of all that a grade leads to.
    pub fn consequence(&self, grade: &str) -> Consequence {
        self.consequences(grade).into_iter().next().unwrap_or(Consequence::Refer)
    }
}

/// A grade of a finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grade {
    /// `light`.
    pub grade: String,
    /// What it leads to: a disposition, what holds the part besides, or both; one at least.
    pub leads_to: Vec<Consequence>,
}

impl Grade {
    /// What stands at it: `replace and refer`.
    pub fn leads_to_in_words(&self) -> String {
        in_words(&self.leads_to)
    }
}

fn in_words(consequences: &[Consequence]) -> String {
    consequences.iter().map(|one| one.word()).collect::<Vec<_>>().join(" and ")
}

/// A detail that a finding asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ask {
    /// Which blade, vane, land or field.
    Number,
    /// Where along it.
    Place,
    /// Length; in mm where no unit is typed, as width and depth.
    Length,
    /// Width.
    Width,
    /// Depth.
    Depth,
    /// Where its middle lies; in mm where no unit is typed.
    Along,
    /// The same across.
    Across,
    /// Where its length points, from along toward across; in degrees where no unit is typed.
    Direction,
    /// How many others were looked at and are sound.
    Others,
    /// A picture.
    Photo,
}

impl Ask {
    /// Every detail.
    pub const ALL: [Self; 10] = [
        Self::Number,
        Self::Place,
        Self::Length,
        Self::Width,
        Self::Depth,
        Self::Along,
        Self::Across,
        Self::Direction,
        Self::Others,
        Self::Photo,
    ];

    /// The word in files.
    pub fn word(self) -> &'static str {
        match self {
            Self::Number => "number",
            Self::Place => "place",
            Self::Length => "length",
            Self::Width => "width",
            Self::Depth => "depth",
            Self::Along => "along",
            Self::Across => "across",
            Self::Direction => "direction",
            Self::Others => "others",
            Self::Photo => "photo",
        }
    }

    /// The detail a word in a file means.
    pub fn parse(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|ask| ask.word() == word)
    }

    /// What is kept of a typed detail: a size with its unit, a count in whole numbers, a place in words.
    ///
    /// # Errors
    /// The refusals of [`typed::parse`], `OtherDimension`, `NotWhole`, `BareNumber`.
    pub fn taken(self, text: &str) -> Result<String, Refusal> {
        let text = text.trim();
        let bare = typed::parse(text, Unit::One).ok().map(|typed| typed.figure).filter(|one| one.unit() == Unit::One);
        if let Some(unit) = self.unit() {
            let figure = typed::parse(text, unit)?.figure;
            if figure.dimension() != unit.dimension() {
                let (is, wanted) = (figure.dimension().word(), unit.dimension().word());
                return Err(RefusalKind::OtherDimension { figure, is, wanted }.into());
            }
            return Ok(figure.to_string());
        }
        match self {
            Self::Number | Self::Others if bare.is_some_and(|figure| !figure.is_count()) => {
                Err(RefusalKind::NotWhole(text.to_owned()).into())
            }
            Self::Place | Self::Number if !text.is_empty() && is_yes_or_no(text) => {
                let why = format!("`{text}` does not say where.");
                Err(RefusalKind::NoAnswer { why, mend: "Say it in a few words, or leave it empty." }.into())
            }
            Self::Place if bare.is_some() => Err(RefusalKind::BareNumber(text.to_owned()).into()),
            Self::Number
            | Self::Place
            | Self::Length
            | Self::Width
            | Self::Depth
            | Self::Along
            | Self::Across
            | Self::Direction
            | Self::Others
            | Self::Photo => Ok(text.to_owned()),
        }
    }

    /// The unit where none is typed, of a detail that is a size.
    pub fn unit(self) -> Option<Unit> {
        match self {
            Self::Length | Self::Width | Self::Depth | Self::Along | Self::Across => Some(Unit::Millimetre),
            Self::Direction => Some(Unit::Degree),
            Self::Number | Self::Place | Self::Others | Self::Photo => None,
        }
    }
}
