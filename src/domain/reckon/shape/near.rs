//! "Did you mean": the word nearest to one that is not known.

/// Longer words are near to no key.
const LONGEST_WORD: usize = 60;

/// The candidate that `word` is most likely meant to be: at most two letters (of three, one) off.
pub fn nearest<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    if word.len() > LONGEST_WORD {
        return None;
    }
    let allowed = if word.chars().count() <= 3 { 1 } else { 2 };
    candidates
        .map(|candidate| (letters_off(word, candidate), candidate))
        .filter(|(off, _)| *off <= allowed)
        .min_by_key(|(off, _)| *off)
        .map(|(_, candidate)| candidate)
}

/// Letters to add, drop or change to get from one word to the other.
fn letters_off(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (place, letter) in one.chars().enumerate() {
        let mut before = place + 1;
        let mut next = vec![before];
        for (pair, wanted) in row.windows(2).zip(&other) {
            if let [diagonal, above] = *pair {
                before = (diagonal + usize::from(letter != *wanted)).min(above + 1).min(before + 1);
                next.push(before);
            }
        }
        row = next;
    }
    row.last().copied().unwrap_or(0)
}
