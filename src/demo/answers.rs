//! Files of answers: one a line, fields between ` | `; the head of each file says what may stand there.

/// One answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its line in the file, from 1.
    pub number: usize,
    /// Its fields, without the blanks around them.
    pub fields: Vec<String>,
}

/// Every answer; blank lines and remarks are passed over.
pub fn lines(text: &str) -> Vec<Line> {
    let numbered = (1..).zip(text.lines().map(str::trim));
    let kept = numbered.filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    kept.map(|(number, line)| Line { number, fields: line.split(" | ").map(|field| field.trim().to_owned()).collect() })
        .collect()
}

/// Pairs such as `number=7 place=22 mm from the tip`: a text runs to the next of `words`.
pub(super) fn pairs(text: &str, words: &[&str]) -> Vec<(String, String)> {
    let mut begins: Vec<_> = words
        .iter()
        .filter_map(|word| {
            let sign = format!("{word}=");
            let at = text
                .match_indices(&sign)
                .map(|(at, _)| at)
                .find(|at| text.get(..*at).is_some_and(|before| before.is_empty() || before.ends_with(' ')))?;
            Some((at, at + sign.len(), *word))
        })
        .collect();
    begins.sort_unstable();
    let ends = begins.iter().skip(1).map(|(at, ..)| *at).chain([text.len()]);
    let pair = |((_, from, word), to): (&(usize, usize, &str), usize)| {
        Some(((*word).to_owned(), text.get(*from..to)?.trim().to_owned()))
    };
    begins.iter().zip(ends).filter_map(pair).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_details_text_runs_to_the_next_detail_word() {
        let found = pairs("number=7 place=22 mm from the tip length=1.8 mm", &["length", "number", "place"]);
        let pair = |word: &str, text: &str| (word.to_owned(), text.to_owned());
        assert_eq!(found, [pair("number", "7"), pair("place", "22 mm from the tip"), pair("length", "1.8 mm")]);
    }

    #[test]
    fn remarks_and_blank_lines_are_passed_over() {
        let all = lines("# head\n\n a/b | tick\n");
        assert_eq!(all, [Line { number: 3, fields: vec!["a/b".to_owned(), "tick".to_owned()] }]);
    }
}
