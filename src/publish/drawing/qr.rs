//! An address as a QR code (ISO/IEC 18004), a file of its own.
//!
//! In: an address. Out: SVG, dark on light by day and night, with the quiet zone of four modules.

use super::svg::{Picture, path, rectangle};
use fast_qr::{ECL, QRBuilder};

/// Modules left free around the code, as the standard asks.
const QUIET: usize = 4;

/// The code as an SVG file; none where the address is longer than a code can hold.
pub(in crate::publish) fn draw(address: &str) -> Option<String> {
    // A quarter of the code may be dirty or torn: it hangs on a wall in a workshop.
    let code = QRBuilder::new(address).ecl(ECL::Q).build().ok()?;
    let mut steps = String::new();
    for row in 0..code.size {
        let dark = |column: usize| column < code.size && code[row][column].value();
        let mut column = 0;
        while column < code.size {
            let run = (column..).take_while(|at| dark(*at)).count();
            if 0 < run {
                let (x, y) = (column + QUIET, row + QUIET);
                steps.push_str(&format!("M{x} {y}h{run}v1h-{run}z"));
            }
            column += run.max(1);
        }
    }
    let size = (code.size + 2 * QUIET) as f64;
    let picture = Picture {
        title: "QR code",
        describes: address,
        width: size,
        height: size,
    };
    Some(picture.file(vec![
        rectangle(0.0, 0.0, size, size).word("fill", "#fff"),
        path(&steps)
            .word("fill", "#000")
            .word("shape-rendering", "crispEdges"),
    ]))
}
