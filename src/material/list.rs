//! The rest of what goes on the truck: cement, containers, and the list as a spreadsheet reads it.

use std::fmt;

/// One line of the list: so many of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// The catalog's name of the part, or a plain word where the catalog has none.
    pub part: String,
    /// What sort of part it is: `tube`, `bend`, `coupling`, `cement`, `strap` ...
    pub kind: String,
    /// Whole for things that are counted, with a fraction for what is measured out.
    pub count: f64,
    /// `pc`, `stick`, `L`, `m` ...
    pub unit: String,
    pub note: String,
}

/// Why an amount cannot be reckoned.
#[derive(Debug, Clone, PartialEq)]
pub enum ListError {
    /// A length to be strapped that is negative or not a number.
    NotALength { length_m: f64 },
    /// A spacing, coverage or container of nothing, less than nothing, or not a number.
    NotAbove { what: &'static str, value: f64 },
}

/// The solvent cement, or as well the primer, for a number of joints.
///
/// ```text
/// litres = joints / joints_per_l
/// ```
///
/// Arguments: `joints`, each one socket cemented; `joints_per_l`, how many joints of this size a litre
/// covers, above 0. Result in litres.
///
/// Errors: a coverage that is not above 0.
///
/// Assumption: no published figure stands behind a coverage for vacuum tubing; it is common practice,
/// best taken from what the firm has used up on its own jobs.
///
/// ```
/// use longsweep::material::list::cement_l;
/// // 90 joints at 120 to the litre
/// assert_eq!(cement_l(90, 120.0), Ok(0.75));
/// ```
pub fn cement_l(joints: u32, joints_per_l: f64) -> Result<f64, ListError> {
    above_nothing("coverage", joints_per_l)?;
    Ok(f64::from(joints) / joints_per_l)
}

/// How many containers hold an amount: `ceil(amount / container)`.
///
/// Both in the same unit, the container above 0. A container is not added for an amount that is over by
/// less than a millionth, which is rounding.
///
/// ```
/// use longsweep::material::list::containers;
/// assert_eq!(containers(0.75, 0.473), Ok(2));
/// assert_eq!(containers(0.0, 0.473), Ok(0));
/// ```
pub fn containers(amount: f64, container: f64) -> Result<u32, ListError> {
    above_nothing("container", container)?;
    length(amount)?;
    Ok((amount / container - 1e-6).ceil().max(0.0) as u32)
}

/// The same list with lines of one part, kind, unit and note added up, in the order they first came.
pub fn gathered(items: &[Item]) -> Vec<Item> {
    let mut all: Vec<Item> = Vec::new();
    for item in items {
        let same = |other: &&mut Item| {
            (&other.part, &other.kind, &other.unit, &other.note)
                == (&item.part, &item.kind, &item.unit, &item.note)
        };
        match all.iter_mut().find(same) {
            Some(line) => line.count += item.count,
            None => all.push(item.clone()),
        }
    }
    all
}

/// The list as comma-separated values by RFC 4180: a header line, every line ended by CR LF, and a field
/// quoted when it holds a comma, a quote or the end of a line.
///
/// Whole counts are written without a point, others to three places at most.
pub fn to_csv(items: &[Item]) -> String {
    let mut text = csv_line(["part", "kind", "count", "unit", "note"].map(String::from));
    for item in items {
        let fields = [&item.part, &item.kind, &count_text(item.count), &item.unit, &item.note];
        text.push_str(&csv_line(fields.map(Clone::clone)));
    }
    text
}

fn csv_line(fields: [String; 5]) -> String {
    fields.map(|field| csv_field(&field)).join(",") + "\r\n"
}

/// A field as it is written. One that a spreadsheet would run as a formula gets an apostrophe before it, and
/// then stands there as text.
///
/// Source: OWASP, *CSV Injection*, from memory: `=`, `+`, `-`, `@`, tab and carriage return at the start.
fn csv_field(field: &str) -> String {
    let guarded = match field.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        true => format!("'{field}"),
        false => field.to_owned(),
    };
    let field = guarded.as_str();
    if field.contains([',', '"', '\r', '\n']) {
        return format!("\"{}\"", field.replace('"', "\"\""));
    }
    field.to_string()
}

fn count_text(count: f64) -> String {
    let text = format!("{count:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

fn above_nothing(what: &'static str, value: f64) -> Result<(), ListError> {
    if value.is_finite() && value > 0.0 { Ok(()) } else { Err(ListError::NotAbove { what, value }) }
}

fn length(length_m: f64) -> Result<(), ListError> {
    if length_m.is_finite() && length_m >= 0.0 { Ok(()) } else { Err(ListError::NotALength { length_m }) }
}

impl fmt::Display for ListError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotALength { length_m } => write!(f, "{length_m} is not an amount of 0 or more"),
            Self::NotAbove { what, value } => write!(f, "a {what} of {value} is not above 0"),
        }
    }
}

impl std::error::Error for ListError {}

#[cfg(test)]
mod tests {
    use super::*;

    fn item(part: &str, count: f64, note: &str) -> Item {
        Item { part: part.into(), kind: "bend".into(), count, unit: "pc".into(), note: note.into() }
    }

    /// RFC 4180, section 2, rules 1, 5, 6 and 7.
    #[test]
    fn published_rfc_4180_quoting() {
        let items = [
            item("sweep, \"90\"", 4.0, ""),
            item("short-45", 0.75, "two\nlines"),
            item("plain", 12.0, "as is"),
        ];
        let expected = "part,kind,count,unit,note\r\n\
                        \"sweep, \"\"90\"\"\",bend,4,pc,\r\n\
                        short-45,bend,0.75,pc,\"two\nlines\"\r\n\
                        plain,bend,12,pc,as is\r\n";
        assert_eq!(to_csv(&items), expected);
    }

    /// The characters that the OWASP page on CSV injection names, from memory.
    #[test]
    fn what_a_spreadsheet_would_run_is_written_as_text() {
        for (name, written) in [
            ("=HYPERLINK(1)", "'=HYPERLINK(1)"),
            ("+1", "'+1"),
            ("-2+3", "'-2+3"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("\t=1", "'\t=1"),
            ("\r=1", "\"'\r=1\""),
            ("a=1", "a=1"),
            ("=1,2", "\"'=1,2\""),
        ] {
            assert_eq!(csv_field(name), written);
        }
    }

    #[test]
    fn zero_items_leave_the_header() {
        assert_eq!(to_csv(&[]), "part,kind,count,unit,note\r\n");
        assert_eq!(to_csv(&[item("none", 0.0, "")]).lines().nth(1), Some("none,bend,0,pc,"));
        assert_eq!(to_csv(&[item("hundred", 100.0, "")]).lines().nth(1), Some("hundred,bend,100,pc,"));
    }

    #[test]
    fn grows_with_joints() {
        assert_eq!(cement_l(0, 100.0), Ok(0.0));
        assert!(cement_l(11, 100.0).unwrap() > cement_l(10, 100.0).unwrap());
        assert_eq!(containers(cement_l(100, 100.0).unwrap(), 0.25), Ok(4));
    }

    #[test]
    fn amounts_that_make_no_sense_are_refused() {
        assert!(cement_l(1, f64::INFINITY).is_err());
        assert!(containers(1.0, -1.0).is_err());
    }

    #[test]
    fn like_lines_are_added_up_where_they_first_stood() {
        let list =
            gathered(&[item("a", 1.0, ""), item("b", 2.0, ""), item("a", 3.0, ""), item("a", 1.0, "spare")]);
        let told: Vec<(&str, f64)> = list.iter().map(|i| (i.part.as_str(), i.count)).collect();
        assert_eq!(told, [("a", 4.0), ("b", 2.0), ("a", 1.0)]);
    }
}
