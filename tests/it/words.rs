//! Man pages and completions are those of the words that the program reads.

use std::collections::BTreeMap;
use std::path::Path;

use clap_complete::Shell;
use clap_complete::aot::Generator;

use crate::sources::root;

/// What belongs into a folder of assets, by file name.
type Files = BTreeMap<String, Vec<u8>>;

fn compare(folder: &str, made: &Files) {
    let folder = root().join("assets").join(folder);
    if std::env::var_os("REWRITE_DOCS").is_some() {
        drop(std::fs::remove_dir_all(&folder));
        std::fs::create_dir_all(&folder).unwrap();
        made.iter().for_each(|(name, bytes)| std::fs::write(folder.join(name), bytes).unwrap());
    }
    let kept = kept(&folder);
    let names = |files: &Files| files.keys().cloned().collect::<Vec<_>>();
    let how = "REWRITE_DOCS=1 cargo test --test it words::";
    assert_eq!(names(&kept), names(made), "{} differs: {how}", folder.display());
    for (name, bytes) in made {
        assert!(kept[name] == *bytes, "{} differs: {how}", folder.join(name).display());
    }
}

fn kept(folder: &Path) -> Files {
    let files = std::fs::read_dir(folder).into_iter().flatten().map(Result::unwrap);
    files.map(|file| (file.file_name().into_string().unwrap(), std::fs::read(file.path()).unwrap())).collect()
}

#[test]
fn the_man_pages_kept_are_those_of_the_words() {
    let folder = tempfile::tempdir().unwrap();
    clap_mangen::generate_to(asfound::cli::command(), folder.path()).unwrap();
    let made = kept(folder.path());
    let whole = String::from_utf8(made["asfound.1"].clone()).unwrap();
    assert!(whole.contains("Exit codes") && made.contains_key("asfound-export.1"), "{whole}");
    compare("man", &made);
}

#[test]
fn the_completions_kept_are_those_of_the_words() {
    let mut made = Files::new();
    for shell in [Shell::Bash, Shell::Elvish, Shell::Fish, Shell::PowerShell, Shell::Zsh] {
        let mut bytes = Vec::new();
        clap_complete::generate(shell, &mut asfound::cli::command(), "asfound", &mut bytes);
        assert!(String::from_utf8_lossy(&bytes).contains("verify"), "{shell}: the verbs are in it");
        made.insert(shell.file_name("asfound"), bytes);
    }
    compare("completions", &made);
}

#[test]
fn help_lists_every_exit_code_and_keeps_to_eighty_columns() {
    let mut command = asfound::cli::command();
    let help = command.render_help().to_string();
    for (code, meaning) in asfound::exit::TABLE {
        assert!(help.lines().any(|line| line.trim_start().starts_with(code) && line.ends_with(meaning)), "{help}");
    }
    command.build();
    narrow(&mut command);
}

fn narrow(command: &mut clap::Command) {
    let help = command.render_help().to_string();
    let wide: Vec<_> = help.lines().filter(|line| line.chars().count() > 80).collect();
    assert!(wide.is_empty(), "{}: {wide:#?}", command.get_name());
    command.get_subcommands_mut().for_each(narrow);
}
