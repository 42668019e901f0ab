//! The route in words: for people who cannot see the drawing, and for tests that read it back.
use crate::measure::{Say, heading_words};
use crate::route::{End, Leg, Line};

/// `From the valve down 2 ft 10 in. HB1, 90° to west. 16 ft. HB2, 90° to south. 11 ft to the stop.`
pub fn route_in_words(line: &Line, say: &Say) -> String {
    let mut words = String::from(if line.head == End::Valve { "From the valve" } else { "From the start" });
    let stop_m = line.raceway.as_ref().map(|raceway| raceway.stop_m);
    for (i, leg) in line.legs.iter().enumerate() {
        if i == 0 {
            words.push_str(&format!(" {}", heading_words(leg.heading)));
        }
        let (from_m, to_m) = (leg.station_m, leg.station_m + leg.length_m);
        // The stop divides a run without turning it.
        match stop_m.filter(|stop_m| *stop_m > from_m + 1e-6 && *stop_m < to_m - 1e-6) {
            Some(stop_m) => words.push_str(&format!(
                " {} to the stop, {} on",
                say.length(stop_m - from_m),
                say.length(to_m - stop_m)
            )),
            None => words.push_str(&format!(" {}", say.length(leg.length_m))),
        }
        words.push_str(match (i + 1 == line.legs.len(), line.tail) {
            (true, End::Stop) => " to the stop.",
            (true, End::Unit) => " to the unit.",
            (true, _) => " to the end.",
            (false, _) => ".",
        });
        if let Some(bend) = line.bends.get(i) {
            let angle = say.angle(bend.angle_deg);
            words.push_str(&format!(" {}, {angle} {}.", line.bend_mark(bend.n), toward(&bend.heading_words)));
        }
    }
    words
}

/// `to west`, but `down`.
pub fn toward(heading_words: &str) -> String {
    match heading_words {
        "up" | "down" => heading_words.into(),
        words => format!("to {words}"),
    }
}

/// A leg's length and way: `2 ft 10 in down`.
pub fn leg_words(leg: &Leg, say: &Say) -> String {
    format!("{} {}", say.length(leg.length_m), heading_words(leg.heading))
}
