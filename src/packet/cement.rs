//! How long a joint is left alone, as a table for the truck.
use crate::measure::{Lengths, Say};
use crate::reckon::cement::{DAMP, Row, TABLE};
use serde::Serialize;

/// The times by temperature, all words decided.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CementTimes {
    pub heads: [&'static str; 4],
    pub rows: Vec<CementRow>,
    /// What goes before the table.
    pub note: String,
}

/// The times of one span of temperature.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CementRow {
    /// `40 to 60 °F`.
    pub temperature: String,
    /// Before the joint is handled, `2 h`.
    pub set: String,
    /// Before the leak test and before the hose is drawn through, `4 h`.
    pub cure: String,
    /// The newer tables' set, `10 min`.
    pub newer_set: String,
}

/// The table, warmest first: both families, the longer in front.
pub fn cement_times(say: Say) -> CementTimes {
    let more = format!("{:.0}", (DAMP - 1.0) * 100.0);
    CementTimes {
        heads: ["Tube at", "Leave it for", "Cure before test and hose", "Newer tables: leave it for"],
        rows: TABLE.iter().map(|times| row(say, times)).collect(),
        note: format!(
            "In damp air wait {more} % longer. Two families of tables are in use and differ: go by the longer, in front. \
             The label of the can in your hand goes before both. Air through the space, no flame, no spark."
        ),
    }
}

fn row(say: Say, row: &Row) -> CementRow {
    let celsius = |f: f64| (f - 32.0) / 1.8;
    let temperature = match say.lengths {
        Lengths::FtIn => format!("{:.0} to {:.0} °F", row.from_f, row.to_f),
        Lengths::Metric => format!("{:.0} to {:.0} °C", celsius(row.from_f), celsius(row.to_f)),
    };
    CementRow {
        temperature,
        set: minutes(row.initial_set_min),
        cure: format!("{:.0} h", row.cure_h),
        newer_set: minutes(row.newer_set_min),
    }
}

/// `30 min`, `2 h`.
fn minutes(min: f64) -> String {
    if min < 60.0 { format!("{min:.0} min") } else { format!("{:.0} h", min / 60.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_families_stand_side_by_side() {
        let table = cement_times(Say { lengths: Lengths::FtIn });
        let told: Vec<[&str; 4]> =
            table.rows.iter().map(|r| [r.temperature.as_str(), &r.set, &r.cure, &r.newer_set]).collect();
        let wanted = [
            ["60 to 100 °F", "30 min", "2 h", "5 min"],
            ["40 to 60 °F", "2 h", "4 h", "10 min"],
            ["0 to 40 °F", "6 h", "16 h", "15 min"],
        ];
        assert_eq!(told, wanted);
        assert!(table.note.contains("50 % longer"));
    }
}
