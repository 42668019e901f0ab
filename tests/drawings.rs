//! Drawings read back: no label on a label or on a line, every bend flagged once, dimensions true.
mod drawings_support;
use drawings_support::*;

/// Writes pictures to look at under tests/.work/look.
#[test]
#[ignore = "for eyes, not for checks"]
fn look() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/.work/look");
    std::fs::create_dir_all(&folder).expect("a folder to write in");
    let mut cases = dozen();
    cases.extend((0..6).map(random));
    for case in cases {
        for view in VIEWS {
            let area = if view == "elevation" {
                (190.0, 95.0)
            } else {
                (93.0, 90.0)
            };
            let svg = case.draw(view, area).to_svg();
            std::fs::write(folder.join(format!("{}-{view}.svg", case.name)), &svg).expect("written");
            let png = longsweep::draw::png(&svg, 7.0).expect("a picture");
            std::fs::write(folder.join(format!("{}-{view}.png", case.name)), png).expect("written");
        }
    }
}
