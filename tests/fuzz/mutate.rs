//! Changes to a file as hands, editors and bad copies make them: by lines, by values, by bytes.
use super::dice::Dice;
use longsweep::schema::FileKind;

/// Signs and words that matter to one reader or another.
const PIECES: [&str; 44] = [
    "\n",
    "\r\n",
    "\t",
    " ",
    ":",
    ": ",
    "- ",
    "{",
    "}",
    "[",
    "]",
    "\"",
    "'",
    "#",
    " #",
    "&a",
    "*a",
    "<<: *a",
    "!!int ",
    "|",
    ">",
    "%",
    "@",
    "`",
    "~",
    "---\n",
    "...\n",
    "\u{0}",
    "\u{1b}[31m",
    "\u{202e}",
    "\u{feff}",
    "½",
    "−",
    "′",
    "é",
    "漢",
    "🧰",
    "<script>",
    "![x](y.png)",
    "```raceway\n",
    "```questions\n",
    "$x^$",
    "[^1]",
    "\u{a0}",
];

/// Numbers at the ends of what can be written, and beyond.
const EXTREMES: [&str; 20] = [
    "0",
    "-0",
    "-1",
    "1",
    "0.0000001",
    "-0.5",
    "1e308",
    "1e-308",
    "1e400",
    "999999999",
    "9223372036854775808",
    "4294967296",
    "NaN",
    ".inf",
    "0x10",
    "1_000",
    "007",
    "1/0",
    "0-1/2",
    "1000",
];

const UNITS: [&str; 16] = [
    " ft", " in", " m", " mm", " cm", " deg", " %", " lb/ft", " inH2O", " kPa", " cfm", " V", " A", " AWG",
    "'", "\"",
];

/// Names and values that the tables of keys hold.
pub struct Words {
    names: Vec<&'static str>,
    examples: Vec<&'static str>,
}

impl Words {
    pub fn of_the_tables() -> Words {
        let things = FileKind::ALL.into_iter().flat_map(FileKind::things);
        let keys: Vec<_> = things.flat_map(|thing| thing.keys).collect();
        Words {
            names: keys.iter().map(|key| key.name).collect(),
            examples: keys.iter().map(|key| key.example).collect(),
        }
    }
}

/// A file changed in one to six places; `other` is one of its kind, of which lines may be taken over.
pub fn mutated(text: &[u8], other: &[u8], words: &Words, dice: &mut Dice) -> Vec<u8> {
    let mut bytes = text.to_vec();
    // One slip is what people make; several at once soon only tell that the file is no YAML.
    let places = [1, 1, 1, 1, 2, 2, 3, 6][dice.throw(8)];
    for _ in 0..places {
        bytes = match String::from_utf8(bytes) {
            Ok(text) if !dice.once_in(6) => by_lines(&text, other, words, dice).into_bytes(),
            Ok(text) => by_bytes(text.into_bytes(), dice),
            Err(odd) => by_bytes(odd.into_bytes(), dice),
        };
    }
    bytes
}

/// A short text, such as a measure, changed in one to four places.
pub fn mutated_words(text: &str, dice: &mut Dice) -> String {
    let mut text = text.to_owned();
    for _ in 0..=dice.throw(4) {
        text = match dice.throw(6) {
            0 => with_number(&text, dice),
            1 => format!("{text}{}", dice.pick(&UNITS).unwrap_or(&"")),
            2 => format!("{text} {}", dice.pick(&EXTREMES).unwrap_or(&"")),
            _ => String::from_utf8_lossy(&by_bytes(text.into_bytes(), dice)).into_owned(),
        };
    }
    text.truncate(text.char_indices().nth(400).map_or(text.len(), |(at, _)| at));
    text
}

fn by_lines(text: &str, other: &[u8], words: &Words, dice: &mut Dice) -> String {
    let mut lines: Vec<String> = text.split_inclusive('\n').map(str::to_owned).collect();
    if lines.is_empty() {
        return dice.pick(&PIECES).copied().unwrap_or_default().to_owned();
    }
    let at = dice.throw(lines.len());
    let end = (at + 1 + dice.throw(6)).min(lines.len());
    match dice.throw(18) {
        0 => {
            let to = dice.throw(lines.len());
            lines.swap(at, to);
        }
        1 => drop(lines.drain(at..end)),
        2 => {
            let block = lines[at..end].to_vec();
            lines.splice(end..end, block);
        }
        3 => {
            let block: Vec<String> = lines.drain(at..end).collect();
            let to = dice.throw(lines.len() + 1);
            lines.splice(to..to, block);
        }
        4 => {
            let by = [1, 2, 4, 8][dice.throw(4)];
            let inward = dice.once_in(2);
            lines[at..end].iter_mut().for_each(|line| *line = shifted(line, by, inward));
        }
        5 => {
            let other = String::from_utf8_lossy(other);
            let theirs: Vec<&str> = other.split_inclusive('\n').collect();
            let from = dice.throw(theirs.len());
            let until = (from + 1 + dice.throw(8)).min(theirs.len());
            lines.splice(at..at, theirs[from.min(until)..until].iter().map(|line| (*line).to_owned()));
        }
        6 => lines.truncate(at),
        7 => lines[at] = with_key(&lines[at], dice.pick(&words.names).unwrap_or(&""), dice),
        8 => {
            let indent = &lines[at][..lines[at].len() - lines[at].trim_start_matches(' ').len()];
            let (name, value) =
                (dice.pick(&words.names).unwrap_or(&""), dice.pick(&words.examples).unwrap_or(&""));
            let line = format!("{indent}{name}: {value}\n");
            lines.insert(at, line);
        }
        9 => lines[at] = with_value(&lines[at], dice.pick(&words.examples).unwrap_or(&""), dice),
        10 => lines[at] = with_value(&lines[at], dice.pick(&PIECES).unwrap_or(&""), dice),
        _ => lines[at] = with_number(&lines[at], dice),
    }
    lines.concat()
}

fn shifted(line: &str, by: usize, inward: bool) -> String {
    match inward {
        true => format!("{}{line}", " ".repeat(by)),
        false => line.strip_prefix(&" ".repeat(by)[..]).unwrap_or(line).to_owned(),
    }
}

/// One of the words before a colon becomes another key.
fn with_key(line: &str, key: &str, dice: &mut Dice) -> String {
    let colons: Vec<usize> = line.match_indices(": ").map(|(at, _)| at).collect();
    let Some(&colon) = dice.pick(&colons) else { return line.to_owned() };
    let start = line[..colon].rfind(|c: char| !(c.is_alphanumeric() || c == '-')).map_or(0, |at| at + 1);
    match line.is_char_boundary(start) {
        true => format!("{}{key}{}", &line[..start], &line[colon..]),
        false => line.to_owned(),
    }
}

/// One of the values after a colon becomes another.
fn with_value(line: &str, value: &str, dice: &mut Dice) -> String {
    let colons: Vec<usize> = line.match_indices(": ").map(|(at, _)| at + 2).collect();
    let Some(&start) = dice.pick(&colons) else { return line.to_owned() };
    let end = line[start..].find([',', '}', ']', '\n']).map_or(line.len(), |at| start + at);
    format!("{}{value}{}", &line[..start], &line[end..])
}

/// One of the numbers becomes an extreme, or is stretched, or turns its sign.
fn with_number(line: &str, dice: &mut Dice) -> String {
    let is_part = |c: char| c.is_ascii_digit() || c == '.';
    let starts: Vec<usize> = line
        .char_indices()
        .filter(|(at, c)| is_part(*c) && !line[..*at].ends_with(is_part))
        .map(|(at, _)| at)
        .collect();
    let Some(&start) = dice.pick(&starts) else { return line.to_owned() };
    let end = line[start..].find(|c| !is_part(c)).map_or(line.len(), |at| start + at);
    let number = &line[start..end];
    let new = match dice.throw(5) {
        0 => format!("{number}000"),
        1 => format!("-{number}"),
        2 => format!("0.0{number}"),
        3 => format!("{}", number.parse::<f64>().unwrap_or(1.0) + [0.5, 1.0, -1.0, 90.0][dice.throw(4)]),
        _ => (*dice.pick(&EXTREMES).unwrap_or(&"")).to_owned(),
    };
    format!("{}{new}{}", &line[..start], &line[end..])
}

fn by_bytes(mut bytes: Vec<u8>, dice: &mut Dice) -> Vec<u8> {
    let at = dice.throw(bytes.len() + 1);
    let end = (at + dice.throw(24)).min(bytes.len());
    let piece = *dice.pick(&PIECES).unwrap_or(&"");
    match dice.throw(7) {
        0 => drop(bytes.drain(at..end)),
        1 => {
            let piece = bytes[at..end].to_vec();
            bytes.splice(at..at, piece);
        }
        2 => {
            let piece: Vec<u8> = bytes.drain(at..end).collect();
            let to = dice.throw(bytes.len() + 1);
            bytes.splice(to..to, piece);
        }
        3 if at < bytes.len() => bytes[at] = dice.throw(256) as u8,
        4 => drop(bytes.splice(at..at, piece.repeat(1 + dice.throw(40)).into_bytes())),
        _ => drop(bytes.splice(at..end.min(at + 2), piece.bytes())),
    }
    bytes
}
