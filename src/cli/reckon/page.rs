//! The words about reckonings: the list, the help of each, and the page docs/reckon.md, all from the one table.

use std::fmt::Write as _;

use super::words;
use crate::domain::reckon::working::wrapped;
use crate::domain::reckon::{FORMULAS, Formula, Key, Need, Shape};

const FORM: &str = "\
asfound reckon                      lists the reckonings
asfound reckon NAME --help          what it takes and gives, a worked example
asfound reckon NAME key=value ...   reckons, and shows the working
asfound reckon NAME FILE            the keys from a YAML or JSON file
asfound reckon NAME -               the same from stdin
  --json                            the result for programs, with all digits

Figures: 0.05, 0,05, 1.5e-5; another unit may stand behind, '50 um', '2 thou'.
Lists: values='0.1; 0.2', '0.1, 0.2' or YAML '[0.1, 0.2]'; a comma alone is a
decimal comma wherever it can be one: '1,2' is 1.2. A list of one may be written
as the figure. Maps are YAML: part='{temperature: 25, expansion: 11.5e-6}'.
NAME/1 is the rule of that number.
Exit: 0 reckoned, 1 figures missing or impossible, 2 unknown name or key.
";

/// A line for each reckoning.
pub fn list() -> String {
    let mut text = String::new();
    let width = FORMULAS.iter().map(|formula| formula.id().len()).max().unwrap_or(0);
    for formula in FORMULAS {
        let _ = writeln!(text, "{:<width$}  {}", formula.id(), formula.purpose);
    }
    text.push_str("\nasfound reckon NAME --help says what it takes and gives.\n");
    text
}

/// How the verb is used, and the list.
pub fn usage() -> String {
    format!("{FORM}\n{}", list())
}

/// What one reckoning takes and gives, and its worked example with the working.
pub fn help(formula: &Formula) -> String {
    let mut text = format!("asfound reckon {} key=value ...\n\n", formula.name);
    push(&mut text, &format!("{}: {}.", formula.id(), formula.purpose));
    text.push_str("\nTakes:\n");
    keys(&mut text, formula.keys, 2);
    text.push_str("\nGives (keys of --json):\n");
    for output in formula.outputs {
        let unit = if output.unit.is_empty() { String::new() } else { format!(" [{}]", output.unit) };
        lines(&mut text, &format!("{}{unit}  {}", output.name, output.doc), 2);
    }
    lines(&mut text, &format!("\nSource: {}.", formula.source), 0);
    let _ = write!(text, "\nExample:\n  {}\n\n{}", typed(formula), worked(formula));
    text
}

/// The page docs/reckon.md.
pub fn docs() -> String {
    let mut text = String::from(
        "# Reckonings\n\nWritten from the table of reckonings in the program; a test compares the two.\n\n```\n",
    );
    text.push_str(FORM);
    text.push_str("```\n\nIn JSON an exact decimal is a string with all its digits. A mean or a ratio whose decimal never ends is a\nnumber, and its fraction stands beside it under the key with `_exact` behind. Computed figures are numbers. Directions\nare degrees from 0 up to 360. Where there is no value, the key ending in `_why` says why.\n");
    for formula in FORMULAS {
        let _ = write!(text, "\n## {}\n\n{}. Source: {}.\n", formula.id(), capital(formula.purpose), formula.source);
        text.push_str("\n| takes | what may stand there | |\n|---|---|---|\n");
        rows(&mut text, formula.keys, "");
        text.push_str("\n| gives | unit | |\n|---|---|---|\n");
        for output in formula.outputs {
            let _ = writeln!(text, "| `{}` | {} | {} |", output.name, output.unit, output.doc);
        }
        let _ = write!(text, "\n```\n$ {}\n{}```\n", typed(formula), worked(formula));
    }
    text
}

fn push(text: &mut String, line: &str) {
    lines(text, line, 0);
}

fn lines(text: &mut String, line: &str, indent: usize) {
    for line in wrapped(line, indent) {
        text.push_str(&line);
        text.push('\n');
    }
}

fn keys(text: &mut String, keys: &[Key], indent: usize) {
    for key in keys {
        lines(text, &format!("{}  {}{}: {}", key.name, key.shape.brief(), need(key), key.doc), indent);
        if let Some(inner) = inner(&key.shape) {
            self::keys(text, inner, indent + 4);
        }
    }
}

fn rows(text: &mut String, keys: &[Key], before: &str) {
    for key in keys {
        let brief = key.shape.brief().replace('|', "or");
        let _ = writeln!(text, "| `{before}{}` | {brief}{} | {} |", key.name, need(key), key.doc);
        if let Some(inner) = inner(&key.shape) {
            rows(text, inner, &format!("{before}{}: ", key.name));
        }
    }
}

fn need(key: &Key) -> String {
    match key.need {
        Need::Required => String::new(),
        Need::Optional => " (optional)".to_owned(),
        Need::Default(default) => format!(" ({default} if not given)"),
    }
}

/// The keys of a map, or of the maps in a list.
fn inner(shape: &Shape) -> Option<&'static [Key]> {
    match shape {
        Shape::Map(keys) => Some(keys),
        Shape::List(item) => inner(item),
        Shape::Figure(..)
        | Shape::AnyFigure(_)
        | Shape::Dof
        | Shape::Whole(..)
        | Shape::Word(_)
        | Shape::Text
        | Shape::Flag
        | Shape::Date => None,
    }
}

/// The example as typed in a shell.
fn typed(formula: &Formula) -> String {
    let quoted = |word: &str| match word.split_once('=') {
        Some((key, value)) if value.contains([' ', ';', '[', '{', '"', '*']) => format!("{key}='{value}'"),
        Some(_) | None => word.to_owned(),
    };
    let words: Vec<String> = formula.example.iter().map(|word| quoted(word)).collect();
    format!("asfound reckon {} {}", formula.name, words.join(" "))
}

/// The working of the example.
fn worked(formula: &Formula) -> String {
    let words: Vec<String> = formula.example.iter().map(|word| (*word).to_owned()).collect();
    match words::tree(&words).map_err(|fault| fault.to_string()) {
        Ok(tree) => match formula.run(&tree) {
            Ok(outcome) => outcome.working.to_string(),
            Err(problems) => problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"),
        },
        Err(fault) => fault,
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
