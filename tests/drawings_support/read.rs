//! Drawings read back by their renderer.
use longsweep::draw::{Fill, Pen, Quad, Scene, Segment, Shape, V2, check};

/// Words on words, on lines or off the sheet; a sheet wider than allowed.
pub fn words_wrong(scene: &Scene, width_mm: f64) -> Vec<String> {
    let mut wrong = Vec::new();
    let boxes = rendered_boxes(scene);
    let words: Vec<&str> =
        scene.marks.iter().flat_map(|mark| mark.texts()).map(|text| text.words.as_str()).collect();
    if boxes.len() != words.len() {
        wrong.push(format!("{} texts written, {} rendered", words.len(), boxes.len()));
        return wrong;
    }
    let sheet = Quad::rect(V2::ZERO, V2::new(scene.size_mm.0, scene.size_mm.1));
    let (strokes, beds) = (strokes(scene), beds(scene));
    for (i, a) in boxes.iter().enumerate() {
        let a = &a.grown(-0.02, -0.02);
        if !a.inside(&sheet) {
            wrong.push(format!("'{}' reaches outside the sheet", words[i]));
        }
        let over = boxes[..i].iter().position(|b| a.meets(b));
        wrong.extend(over.map(|k| format!("'{}' on '{}'", words[i], words[k])));
        // Of what is drawn before the last white bed under the words nothing is seen there.
        let bed = beds.iter().filter(|(bed, _)| a.inside(bed)).map(|(_, nth)| *nth).max().unwrap_or(0);
        let seen = strokes.iter().filter(|(_, _, nth)| *nth >= bed);
        let line = seen.into_iter().find(|(stroke, _, _)| a.grown(0.0, -0.2).meets(stroke));
        wrong.extend(line.map(|(_, kind, _)| format!("'{}' on a line of a {kind}", words[i])));
    }
    if scene.size_mm.0 > width_mm + 1e-9 {
        wrong.push(format!("{} mm wide in {width_mm} mm", scene.size_mm.0));
    }
    wrong
}

/// Boxes of texts as we measure them, mm.
pub fn text_boxes(scene: &Scene) -> Vec<Quad> {
    scene.marks.iter().flat_map(|mark| mark.texts()).map(longsweep::draw::Text::line_box).collect()
}

/// Boxes of texts as the renderer finds them, mm, in the order written.
pub fn rendered_boxes(scene: &Scene) -> Vec<Quad> {
    let tree = check(&scene.to_svg()).expect("readable SVG");
    let mut found = Vec::new();
    collect(tree.root(), &mut found);
    found
}

fn collect(group: &resvg::usvg::Group, found: &mut Vec<Quad>) {
    use resvg::usvg::Node;
    for node in group.children() {
        match node {
            Node::Group(inner) => collect(inner, found),
            Node::Text(text) => {
                let (r, turn) = (text.bounding_box(), text.abs_transform());
                let corner = |x: f32, y: f32| {
                    let mut at = resvg::tiny_skia::Point::from_xy(x, y);
                    turn.map_point(&mut at);
                    V2::new(f64::from(at.x), f64::from(at.y)) * 25.4 / 96.0
                };
                let corners = [
                    corner(r.left(), r.top()),
                    corner(r.right(), r.top()),
                    corner(r.right(), r.bottom()),
                    corner(r.left(), r.bottom()),
                ];
                found.push(Quad::new(corners));
            }
            _ => {}
        }
    }
}

/// White four-sided beds, and the place of their mark in the order of drawing.
fn beds(scene: &Scene) -> Vec<(Quad, usize)> {
    let mut all = Vec::new();
    for (nth, mark) in scene.marks.iter().enumerate() {
        for shape in &mark.shapes {
            if let Shape::Path { fill: Fill::White, .. } = shape
                && let [a, b, c, d] = shape.corners()[..]
            {
                all.push((Quad::new([a, b, c, d]), nth));
            }
        }
    }
    all
}

/// Every stroke that words must keep off: all but hatch, and the frames that belong to the words.
fn strokes(scene: &Scene) -> Vec<(Quad, &'static str, usize)> {
    let mut all = Vec::new();
    for (nth, mark) in scene.marks.iter().enumerate() {
        if matches!(mark.kind, "plane" | "balloon" | "key" | "scale-bar") {
            continue;
        }
        for shape in &mark.shapes {
            let Shape::Path { steps, pen, .. } = shape else {
                continue;
            };
            if matches!(pen, Pen::None) {
                continue;
            }
            let mut at = V2::ZERO;
            for step in steps {
                let to = match *step {
                    Segment::Move(p) => {
                        at = p;
                        continue;
                    }
                    Segment::Line(p) | Segment::Cubic(_, _, p) => p,
                    Segment::Close => continue,
                };
                all.push((Quad::stroke(at, to, 0.0), mark.kind, nth));
                at = to;
            }
        }
    }
    all
}
