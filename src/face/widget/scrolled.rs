//! Lines of which a small window shows some: the last row counts the others and names the keys that show them.

use super::super::look::Tone;
use super::super::pen::Pen;

/// Draws the lines, each from its column, from line `scroll` on; says how many rows were used.
pub fn draw(pen: &mut Pen<'_>, lines: &[(usize, String, Tone)], scroll: usize) -> usize {
    let room = pen.height();
    let fits = if lines.len() > room { room.saturating_sub(1) } else { room };
    let skipped = scroll.min(lines.len().saturating_sub(fits));
    for (y, (x, line, tone)) in lines.iter().skip(skipped).take(fits).enumerate() {
        pen.put(*x, y, line, *tone);
    }
    if lines.len() > fits {
        let more = lines.len().saturating_sub(skipped + fits);
        pen.put(1, fits, &format!("{more} more lines: PgDn; {skipped} above: PgUp"), Tone::Quiet);
    }
    lines.len().min(room)
}
