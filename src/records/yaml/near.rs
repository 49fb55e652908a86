//! "Did you mean": the known word nearest to one that is not known.

/// The nearest of `known`, when it is near enough to be meant.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // a whole page pasted where a key belongs is near to nothing
    if word.chars().count() > 80 {
        return None;
    }
    let word = word.to_lowercase();
    let ranked = known.into_iter().map(|one| (distance(&word, &one.to_lowercase()), one));
    // half a name is a slip too: `decimal` for `decimal mark`
    let begins = |one: &str| word.chars().count() >= 4 && one.to_lowercase().starts_with(&word);
    let near_enough = |(steps, one): &(usize, &str)| *steps <= (one.chars().count() / 3).max(1) || begins(one);
    ranked.filter(near_enough).min_by_key(|(steps, _)| *steps).map(|(_, one)| one)
}

/// Letters to be put in, left out, changed or swapped with a neighbour.
fn distance(from: &str, to: &str) -> usize {
    let to: Vec<char> = to.chars().collect();
    let mut before: Vec<usize> = Vec::new();
    let mut row: Vec<usize> = (0..=to.len()).collect();
    let mut letter_before = None;
    for (done, letter) in from.chars().enumerate() {
        let mut next = vec![done + 1];
        for (column, other) in to.iter().enumerate() {
            let at = |row: &[usize], column: usize| row.get(column).copied().unwrap_or(usize::MAX - 1);
            let changed = at(&row, column) + usize::from(letter != *other);
            let mut least = changed.min(at(&row, column + 1) + 1).min(at(&next, column) + 1);
            let swapped = column.checked_sub(1).filter(|one| {
                to.get(*one) == Some(&letter) && letter_before == Some(*other) && before.get(*one).is_some()
            });
            if let Some(column) = swapped {
                least = least.min(at(&before, column) + 1);
            }
            next.push(least);
        }
        before = std::mem::replace(&mut row, next);
        letter_before = Some(letter);
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_finds_its_word() {
        let known = ["above", "at or above", "below", "source"];
        for (slip, meant) in [
            ("abvoe", Some("above")),
            ("Above", Some("above")),
            ("at above", Some("at or above")),
            ("sorce", Some("source")),
            ("at or", Some("at or above")),
            ("max", None),
        ] {
            assert_eq!(nearest(slip, known), meant, "{slip}");
        }
        assert_eq!(nearest("", known), None);
        assert_eq!(nearest("x", []), None);
    }
}
