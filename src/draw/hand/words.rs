//! The route in words: for people who cannot see the drawing, and for tests that read it back.
use crate::measure::{Say, heading_words};
use crate::route::{End, Leg, Line};

/// `From the valve down 2 ft 10 in. B1, 90° to west. 16 ft. B2, 90° to south. 11 ft to the stop.`
pub fn route_in_words(route: &Line, say: &Say) -> String {
    let begins = route.tubes.first().map_or(End::Valve, |tube| tube.from);
    let ends = route.tubes.last().map_or(End::Stop, |tube| tube.to);
    let mut words = String::from(if begins == End::Valve { "From the valve" } else { "From the start" });
    for (i, leg) in route.legs.iter().enumerate() {
        if i == 0 {
            words.push_str(&format!(" {}", heading_words(leg.heading)));
        }
        words.push_str(&format!(" {}", say.length(leg.length_m)));
        words.push_str(match (i + 1 == route.legs.len(), ends) {
            (true, End::Stop) => " to the stop.",
            (true, _) => " to the end.",
            _ => ".",
        });
        if let Some(bend) = route.bends.get(i) {
            let angle = say.angle(bend.angle_deg);
            words.push_str(&format!(" B{}, {angle} {}.", bend.n, toward(&bend.heading_words)));
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
