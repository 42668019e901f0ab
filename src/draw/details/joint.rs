//! One joint cut open: the tube home in its socket, the insertion mark at the socket's mouth.
use crate::draw::hand::font::{self, SIZE_MM, line_height};
use crate::draw::hand::geo::{Quad, hatch, v2};
use crate::draw::hand::scene::{Fill, Mark, Pen, Scene};
use crate::draw::placer::labels::centred;
use crate::draw::placer::paper::Paper;
use crate::draw::subject::JointPicture;

/// Draws the joint, tube from the left. Walls are drawn to the same scale as the depth.
pub fn joint(p: &JointPicture) -> Scene {
    let depth = p.say.length(p.socket_m);
    let desc = format!(
        "Tube {} goes {depth} into {}, home on the socket bottom; the insertion mark on the tube, {depth} from its end, then stands at the mouth of the socket.",
        p.tube, p.fitting
    );
    let mut paper = Paper::new(&p.prefix, &p.title, desc, p.area_mm);
    let (w, h) = (p.area_mm.0, p.area_mm.1.max(40.0));
    // Words stand over and under the tube, so that only the tube's own length asks for width.
    let per_m = (h - 28.0) / (p.tube_outside_m * 1.35).max(1e-4);
    let per_m = per_m.min((w - 10.0) / (p.socket_m * 2.6).max(1e-4));
    let middle = v2(w / 2.0, h / 2.0 - 4.0);
    let radius = p.tube_outside_m / 2.0 * per_m;
    let wall = ((p.tube_outside_m - p.tube_bore_m) / 2.0 * per_m).max(0.8);
    let deep = p.socket_m * per_m;
    let (mouth, end) = (middle.x - deep / 2.0, middle.x + deep / 2.0);
    let (tube_left, fitting_right) = ((mouth - deep * 0.9).max(4.0), (end + deep * 0.7).min(w - 4.0));
    walls(&mut paper, "tube", &p.tube, (tube_left, end), (middle.y, radius, wall), true);
    walls(&mut paper, "socket", &p.fitting, (mouth, end), (middle.y, radius + wall, wall), false);
    walls(
        &mut paper,
        "socket-bottom",
        "socket bottom",
        (end, fitting_right),
        (middle.y, radius + wall, wall * 2.0),
        false,
    );
    let mut centre = Mark::new("centreline", "");
    centre.line(v2(tube_left - 2.0, middle.y), v2(fitting_right + 2.0, middle.y), Pen::Chain);
    paper.add(centre);
    insertion_mark(&mut paper, mouth, (middle.y, radius), wall);
    depth_dimension(&mut paper, p, (mouth, end), middle.y + radius + 2.0 * wall);
    let top = middle.y - radius;
    paper.label(&format!("tube {}", p.tube), v2(tube_left + 3.0, top), v2(-0.3, -1.0));
    paper.label("insertion mark", v2(mouth, top - wall), v2(-0.2, -1.0));
    paper.label(&p.fitting, v2((end + fitting_right) / 2.0, top - wall), v2(0.4, -1.0));
    paper.label("socket bottom", v2(end, middle.y + radius - wall / 2.0), v2(0.4, 0.9));
    paper.finish()
}

/// Upper and lower wall of something round, cut open and hatched.
fn walls(
    paper: &mut Paper,
    kind: &'static str,
    title: &str,
    span: (f64, f64),
    round: (f64, f64, f64),
    rising: bool,
) {
    let (y, radius, wall) = round;
    let mut mark = Mark::new(kind, title);
    for side in [-1.0, 1.0] {
        let (outer, inner) = (y + side * radius, y + side * (radius - wall));
        let place = Quad::rect(v2(span.0, outer.min(inner)), v2(span.1, outer.max(inner)));
        mark.lines(&hatch(&place.corners, 1.1, rising), Pen::Thin);
        mark.polygon(&place.corners, Pen::Thick, Fill::None);
    }
    paper.add(mark);
}

/// The pencil line round the tube: just outside the mouth when the tube is home.
fn insertion_mark(paper: &mut Paper, x: f64, round: (f64, f64), wall: f64) {
    let (y, radius) = round;
    let mut mark = Mark::new("insertion-mark", "insertion mark");
    for side in [-1.0, 1.0] {
        mark.line(v2(x, y + side * (radius - wall)), v2(x, y + side * (radius + wall * 1.6)), Pen::Thick);
    }
    paper.add(mark);
}

/// The depth of the socket.
fn depth_dimension(paper: &mut Paper, p: &JointPicture, span: (f64, f64), bottom: f64) {
    let words = p.say.length(p.socket_m);
    let y = bottom + 9.0;
    let mut mark = Mark::new("dimension", format!("socket depth {words}")).figure("length-m", p.socket_m);
    let (a, b) = (v2(span.0, y), v2(span.1, y));
    mark.lines(
        &[(a - v2(0.0, 7.0), a + v2(0.0, 1.2)), (b - v2(0.0, 7.0), b + v2(0.0, 1.2)), (a, b)],
        Pen::Thin,
    );
    let tick = v2(0.9, -0.9);
    mark.lines(&[(a - tick, a + tick), (b - tick, b + tick)], Pen::Thick);
    let wide = font::width(&words, SIZE_MM, false);
    let over = wide + 2.0 <= span.1 - span.0;
    let at = if over {
        (a + b) / 2.0 - v2(0.0, line_height(SIZE_MM) / 2.0 + 0.4)
    } else {
        b + v2(wide / 2.0 + 2.0, 0.0)
    };
    mark.text(centred(at, &words, 0.0));
    paper.add(mark);
}
