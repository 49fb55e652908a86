//! Words that a step offers by number, for hands that would rather not write.

use super::Step;

impl Step {
    /// What is offered, by number: `1 grit in the oil, 2 running hours`; none where nothing is.
    pub fn offered(&self) -> Option<String> {
        let numbered = self.offers.iter().enumerate().map(|(place, words)| format!("{} {words}", place + 1));
        (!self.offers.is_empty()).then(|| numbered.collect::<Vec<_>>().join(", "))
    }

    /// The sentence that was typed, with the words offered in the place of their number: `2`, or `2: oil filter torn`.
    pub fn sentence(&self, typed: &str) -> String {
        let (number, rest) = typed.split_once(':').unwrap_or((typed, ""));
        let place = number.trim().parse::<usize>().ok().and_then(|number| number.checked_sub(1));
        match (place.and_then(|place| self.offers.get(place)), rest.trim()) {
            (Some(words), "") => words.clone(),
            (Some(words), rest) => format!("{words}: {rest}"),
            (None, _) => typed.to_owned(),
        }
    }
}
