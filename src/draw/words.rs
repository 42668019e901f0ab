//! The route in words: for people who cannot see the drawing, and for tests that read it back.
use crate::measure::Say;
use crate::route::{End, Leg, Route};
use glam::DVec3;

/// `From the valve down 2 ft 10 in. B1, 90° to west. 16 ft. B2, 90° to south. 11 ft to the stop.`
pub fn route_in_words(route: &Route, say: &Say) -> String {
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

/// A heading as a compass word with its slope: `down`, `west`, `north-east, 30° up`.
///
/// East is x, north y, up z. Within 0.5 degrees of a main direction that direction is named; another
/// bearing is told as degrees clockwise from north, `bearing 63.4°`.
pub fn heading_words(heading: DVec3) -> String {
    let flat = heading.truncate().length();
    let pitch_deg = heading.z.atan2(flat).to_degrees();
    if pitch_deg.abs() > 89.5 {
        return if pitch_deg > 0.0 { "up".into() } else { "down".into() };
    }
    let bearing_deg = heading.x.atan2(heading.y).to_degrees().rem_euclid(360.0);
    let eighth = (bearing_deg / 45.0).round();
    const NAMES: [&str; 8] =
        ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];
    let compass = if (bearing_deg - eighth * 45.0).abs() < 0.5 {
        NAMES[eighth as usize % 8].to_string()
    } else {
        format!("bearing {bearing_deg:.1}°")
    };
    let say = Say { lengths: crate::measure::Lengths::Metric };
    match pitch_deg {
        p if p.abs() < 0.05 => compass,
        p => format!("{compass}, {} {}", say.angle(p.abs()), if p > 0.0 { "up" } else { "down" }),
    }
}

/// A leg's length and way: `2 ft 10 in down`.
pub fn leg_words(leg: &Leg, say: &Say) -> String {
    format!("{} {}", say.length(leg.length_m), heading_words(leg.heading))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_main_directions_and_bearings() {
        assert_eq!(heading_words(DVec3::NEG_Z), "down");
        assert_eq!(heading_words(DVec3::NEG_X), "west");
        assert_eq!(heading_words(DVec3::new(1.0, 1.0, 0.0).normalize()), "north-east");
        assert_eq!(heading_words(DVec3::new(2.0, 1.0, 0.0).normalize()), "bearing 63.4°");
        assert_eq!(heading_words(DVec3::new(0.0, 1.0, 1.0).normalize()), "north, 45° up");
    }
}
