//! What all papers have in common: one page of HTML that needs nothing beside it and prints black on white.

use maud::{DOCTYPE, Markup, PreEscaped, html};

/// Sizes in points and millimetres: it is read on paper, by hand lamps.
const STYLE: &str = "
body{font:10pt/1.35 sans-serif;color:#000;background:#fff;max-width:180mm;margin:8mm auto}
h1{font-size:16pt;margin:0 0 2mm}h2{font-size:13pt;margin:7mm 0 2mm;border-bottom:1px solid #000}h3{font-size:11pt;margin:5mm 0 1mm}
table{border-collapse:collapse;margin:2mm 0}td,th{border:1px solid #000;padding:1mm 2mm;text-align:left;vertical-align:top}
td.box{min-width:16mm;height:7mm}td.box .line{min-width:25mm}td.words{width:70mm;height:14mm}table.pages,table.pages>thead>tr>th,table.pages>tbody>tr>td{border:0;padding:0;margin:0;width:100%}table.pages>thead>tr>th{font-weight:normal;border-bottom:1px solid #000;padding-bottom:2mm}table.pages>thead .line{min-width:22mm}pre{font:8pt/1.3 monospace;white-space:pre-wrap;overflow-wrap:anywhere;margin:1mm 0 2mm 4mm}
p{margin:1mm 0;overflow-wrap:break-word}.caution{font-weight:bold;border:2px solid #000;padding:1mm 2mm}.mark{border:2px solid #000;padding:1mm 3mm;font-weight:bold;text-align:center}
.line{display:inline-block;border-bottom:1px solid #000;min-width:45mm;height:6mm}.tick{display:inline-block;border:1px solid #000;width:4mm;height:4mm;margin-right:2mm}
section{break-inside:avoid-page}thead{display:table-header-group}tr{break-inside:avoid}table.pages>tbody>tr{break-inside:auto}
@media print{body{max-width:none;margin:0}.next{break-before:page}}
";

/// A paper of that size (`A4`, `Letter`), with a mark above it where the machine is invented.
pub(super) fn paper(title: &str, size: &str, mark: Option<&str>, body: &Markup) -> String {
    let page = format!(
        "@page{{size:{size};margin:15mm;@bottom-right{{content:\"page \" counter(page) \" of \" counter(pages)}}}}"
    );
    let whole = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                title { (title) }
                style { (PreEscaped(STYLE)) (PreEscaped(page)) }
            }
            body {
                @if let Some(mark) = mark { p.mark { (mark) } }
                (body)
                @if let Some(mark) = mark { p.mark { (mark) } }
            }
        }
    };
    whole.into_string()
}

/// The body with a line on top of every page: a sheet that is carried about alone still says whose it is.
pub(super) fn on_every_page(top: &Markup, body: &Markup) -> Markup {
    html! {
        table.pages {
            thead { tr { th { (top) } } }
            tbody { tr { td { (body) } } }
        }
    }
}

/// An empty line to write on, behind what is asked.
pub(super) fn line(asked: &str) -> Markup {
    html! { (asked) " " span.line {} " " }
}
