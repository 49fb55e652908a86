//! The working of a reckoning: what a trainee reads, and a supervisor checks with a pencil.

use std::fmt;

use super::behind_sign;
use super::formula::Formula;
use crate::domain::exact::Exact;

/// Widest line of the rendered text: it fits an 80-column screen inside a frame.
pub const WIDTH: usize = 76;

/// The steps from the figures to the result, the result as the trade rounds it, the rule and its source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Working {
    /// Name and number of the rule, `lift/1`.
    pub rule: String,
    /// What it reckons, in a line.
    pub purpose: &'static str,
    /// Where the rule comes from.
    pub source: &'static str,
    /// The steps in their order.
    pub lines: Vec<Line>,
    /// The result, rounded as the trade would.
    pub result: String,
}

/// One step: `c = up - down = 0.234 - 0.020 = 0.214 mm`. What is empty is not shown.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Line {
    /// Symbol or name of what is reckoned.
    pub symbol: String,
    /// The formula in the trade's symbols.
    pub formula: String,
    /// The formula with the figures put in, with their units.
    pub put_in: String,
    /// What comes out, with its unit.
    pub result: String,
}

impl Working {
    /// The working of `formula`, still without steps.
    pub fn of(formula: &Formula) -> Self {
        Self {
            rule: formula.id(),
            purpose: formula.purpose,
            source: formula.source,
            lines: Vec::new(),
            result: String::new(),
        }
    }

    /// The same working with a line of words before its steps.
    #[must_use]
    pub fn about(mut self, words: impl Into<String>) -> Self {
        self.lines.insert(0, Line { symbol: words.into(), ..Line::default() });
        self
    }

    /// A line of words: a heading, a remark, a figure taken as it is.
    pub fn say(&mut self, words: impl Into<String>) {
        self.lines.push(Line { symbol: words.into(), ..Line::default() });
    }

    /// A step: symbol, formula, the figures put in, the result.
    pub fn step(
        &mut self,
        symbol: impl Into<String>,
        formula: impl Into<String>,
        put_in: impl Into<String>,
        result: impl Into<String>,
    ) {
        self.lines.push(Line {
            symbol: symbol.into(),
            formula: formula.into(),
            put_in: put_in.into(),
            result: result.into(),
        });
    }

    /// The same working with its result.
    #[must_use]
    pub fn resulting(mut self, result: impl Into<String>) -> Self {
        self.result = result.into();
        self
    }

    /// The text, no line wider than [`WIDTH`].
    pub fn text_lines(&self) -> Vec<String> {
        let mut text = wrapped(&format!("{}  {}", self.rule, self.purpose), 0);
        for line in &self.lines {
            text.extend(wrapped(&line.to_string(), 2));
        }
        text.extend(wrapped(&format!("result: {}", self.result), 0));
        text.extend(wrapped(&format!("source: {}", self.source), 0));
        text
    }
}

/// All lines, each ended.
impl fmt::Display for Working {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.text_lines().iter().try_for_each(|line| writeln!(out, "{line}"))
    }
}

/// The members that are not empty, an equals sign between them; equal neighbours are said once.
impl fmt::Display for Line {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut members: Vec<&str> = [&self.symbol, &self.formula, &self.put_in, &self.result]
            .into_iter()
            .map(String::as_str)
            .filter(|member| !member.is_empty())
            .collect();
        members.dedup();
        out.write_str(&members.join(" = "))
    }
}

/// So many terms of a sum are written out; of more the first three and the last.
const WRITTEN_OUT: usize = 24;

/// `0.118 mm + 0.121 mm`: the figures as they were written, their unit behind each.
pub fn added(figures: &[Exact], unit: &str) -> String {
    joined(figures.iter().map(|figure| behind_sign(&format!("{figure}{unit}"))).collect(), " + ")
}

/// `1 point`, `3 points`.
pub fn counted(count: usize, noun: &str) -> String {
    format!("{count} {noun}{}", if count == 1 { "" } else { "s" })
}

/// `1 degree of freedom`, `2.5 degrees of freedom`, `endless degrees of freedom`.
pub fn of_freedom(dof: impl fmt::Display) -> String {
    let dof = dof.to_string();
    let noun = if dof == "1" { "degree" } else { "degrees" };
    format!("{dof} {noun} of freedom")
}

/// Terms with a sign between; of many the first three and the last.
pub fn joined(mut terms: Vec<String>, sign: &str) -> String {
    if terms.len() > WRITTEN_OUT {
        let last = terms.pop();
        terms.truncate(3);
        terms.push("...".to_owned());
        terms.extend(last);
    }
    terms.join(sign)
}

/// `text` behind `indent` blanks, broken before an equals sign where that helps, else at a blank, else anywhere.
pub fn wrapped(text: &str, indent: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut rest: Vec<char> = text.chars().collect();
    let mut margin = indent;
    while margin + rest.len() > WIDTH {
        let room = WIDTH - margin;
        let cut = break_before(&rest, room);
        let tail = rest.split_off(cut);
        let head: String = rest.iter().collect();
        lines.push(format!("{}{}", " ".repeat(margin), head.trim_end()));
        rest = tail.into_iter().skip_while(|c| *c == ' ').collect();
        margin = indent + 4;
    }
    if !rest.is_empty() || lines.is_empty() {
        lines.push(format!("{}{}", " ".repeat(margin), rest.iter().collect::<String>()));
    }
    lines
}

/// Where to break, at most `room` characters on; never at the very begin.
fn break_before(text: &[char], room: usize) -> usize {
    let reach = text.get(..=room).unwrap_or(text);
    let blank_at = |from: usize| reach.iter().skip(from).rposition(|c| *c == ' ').map(|at| at + from);
    let equals = (room / 3..reach.len().saturating_sub(1))
        .rev()
        .find(|at| reach.get(*at) == Some(&' ') && reach.get(*at + 1) == Some(&'='));
    equals.or_else(|| blank_at(1)).unwrap_or(room).max(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_too_wide_and_no_word_is_lost() {
        let long = format!("c = up - down = {} = 0.214 mm {}", "0.214 + ".repeat(20), "x".repeat(200));
        let lines = wrapped(&long, 2);
        assert!(lines.iter().all(|line| line.chars().count() <= WIDTH), "{lines:#?}");
        let squeezed = |text: &str| text.chars().filter(|c| *c != ' ').collect::<String>();
        assert_eq!(squeezed(&lines.concat()), squeezed(&long));
    }

    #[test]
    fn a_step_leaves_out_what_is_empty_or_said_twice() {
        let line = Line { symbol: "c".into(), result: "0.214 mm".into(), ..Line::default() };
        assert_eq!(line.to_string(), "c = 0.214 mm");
    }
}
