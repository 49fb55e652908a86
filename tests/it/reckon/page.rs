//! The page of reckonings is the table's.

#[test]
fn docs_reckon_md_is_the_table() {
    let path = format!("{}/docs/reckon.md", env!("CARGO_MANIFEST_DIR"));
    let written = asfound::cli::reckon::page::docs();
    if std::env::var_os("REWRITE_DOCS").is_some() {
        std::fs::write(&path, &written).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == written, "docs/reckon.md is old; REWRITE_DOCS=1 cargo test --test it docs_reckon rewrites it");
}
