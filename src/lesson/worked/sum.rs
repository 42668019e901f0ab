//! The sums of worked examples: `2 * 7 in * tan(45 deg)`, `path(1) - hose-length(socked-40)`.
//!
//! A small grammar, read and reckoned in one pass: sums, products, powers, brackets, measures with their
//! units, names of earlier steps, and calls, of mathematics here or of the engine through [`Known`].

use super::value::{Figure, unit};
use std::ops::Range;

/// What a call is given: a figure, or a word such as a part's id.
#[derive(Debug, Clone, PartialEq)]
pub enum Given {
    Figure(Figure),
    Word(String),
}

/// What a sum may name beside its numbers.
pub(super) trait Known {
    /// The figure of that name, and how it is said.
    fn name(&self, name: &str) -> Option<(Figure, String)>;
    /// `None` where there is no such call; half a sentence where what it was given does not serve.
    fn call(&mut self, name: &str, given: &[Given]) -> Option<Result<(Figure, String), String>>;
    fn names(&self) -> Vec<String>;
}

/// What is wrong with a sum, where in it, and the name that was meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Fault {
    pub at: Range<usize>,
    pub message: String,
    pub near: Option<String>,
}

/// What a sum comes to, and what its names and calls stand for, in the order of the text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Reckoned {
    pub figure: Figure,
    pub replaced: Vec<(Range<usize>, String)>,
}

/// Reckons a sum.
pub(super) fn reckon(text: &str, known: &mut dyn Known) -> Result<Reckoned, Fault> {
    let mut scan = Scan { text, at: 0, depth: 0, known, replaced: Vec::new() };
    let value = scan.sum()?;
    scan.space();
    if scan.at < text.len() {
        return scan.fail(scan.at..text.len(), format!("`{}` is left over", &text[scan.at..]));
    }
    if value.si.is_finite() {
        return Ok(Reckoned { figure: value, replaced: scan.replaced });
    }
    scan.fail(0..text.len(), "the sum comes to no number".into())
}

/// Brackets deeper than this are a slip, not a sum.
const DEEPEST: usize = 30;

struct Scan<'t, 'k> {
    text: &'t str,
    at: usize,
    depth: usize,
    known: &'k mut dyn Known,
    replaced: Vec<(Range<usize>, String)>,
}

impl<'t> Scan<'t, '_> {
    fn sum(&mut self) -> Result<Figure, Fault> {
        let from = self.at;
        let mut left = self.product()?;
        while let Some(sign) = self.sign(&['+', '-', '−']) {
            let right = self.product()?;
            if left.of != right.of {
                let message = format!("{} and {} cannot be added", left.what(), right.what());
                return self.fail(from..self.at, message);
            }
            left.si += if sign == '+' { right.si } else { -right.si };
        }
        Ok(left)
    }

    fn product(&mut self) -> Result<Figure, Fault> {
        let mut left = self.power()?;
        while let Some(sign) = self.sign(&['*', '×', '/']) {
            let right = self.power()?;
            let way: i8 = if sign == '/' { -1 } else { 1 };
            left.si *= right.si.powi(i32::from(way));
            for (mine, theirs) in left.of.iter_mut().zip(right.of) {
                *mine = mine.saturating_add(way.saturating_mul(theirs));
            }
        }
        Ok(left)
    }

    fn power(&mut self) -> Result<Figure, Fault> {
        let base = self.atom()?;
        if self.sign(&['^']).is_none() {
            return Ok(base);
        }
        let from = self.at;
        let by = self.atom()?;
        let whole = by.si.round();
        if by.of != [0; 4] || (base.of != [0; 4] && (by.si - whole).abs() > 1e-12) || whole.abs() > 20.0 {
            return self.fail(from..self.at, "a measure is raised to a small whole number only".into());
        }
        let of = base.of.map(|power| power.saturating_mul(whole as i8));
        Ok(Figure { si: base.si.powf(by.si), of: if base.of == [0; 4] { base.of } else { of } })
    }

    fn atom(&mut self) -> Result<Figure, Fault> {
        self.space();
        let from = self.at;
        match self.rest().chars().next() {
            Some('(') => self.bracket(),
            Some('-' | '−') => {
                let minus = self.rest().chars().next().map_or(1, char::len_utf8);
                self.at += minus;
                let value = self.power()?;
                Ok(Figure { si: -value.si, ..value })
            }
            Some(c) if c.is_ascii_digit() => self.measure(),
            Some(c) if c.is_ascii_alphabetic() => self.named(),
            Some(c) => self.fail(from..from + c.len_utf8(), format!("`{c}` begins no figure")),
            None => self.fail(from.saturating_sub(1)..from, "the sum ends too early".into()),
        }
    }

    fn bracket(&mut self) -> Result<Figure, Fault> {
        let from = self.at;
        self.at += 1;
        self.depth += 1;
        if self.depth > DEEPEST {
            return self.fail(from..from + 1, "too many brackets".into());
        }
        let value = self.sum()?;
        self.depth -= 1;
        self.close(from)?;
        Ok(value)
    }

    fn close(&mut self, from: usize) -> Result<(), Fault> {
        self.space();
        if self.rest().starts_with(')') {
            self.at += 1;
            return Ok(());
        }
        self.fail(from..self.at.max(from + 1), "this bracket is not closed".into())
    }

    /// A number with its unit; feet and inches may follow each other: `5 ft 4-1/2 in`.
    fn measure(&mut self) -> Result<Figure, Fault> {
        let from = self.at;
        let mut total = self.one_measure()?;
        loop {
            let before = self.at;
            self.space();
            if total.of != [1, 0, 0, 0] || !self.rest().starts_with(|c: char| c.is_ascii_digit()) {
                self.at = before;
                return Ok(total);
            }
            let next = self.one_measure()?;
            if next.of != total.of {
                return self.fail(from..self.at, "two figures stand side by side".into());
            }
            total.si += next.si;
        }
    }

    fn one_measure(&mut self) -> Result<Figure, Fault> {
        let number = self.number()?;
        self.space();
        let from = self.at;
        let name = unit_name(self.rest());
        let Some(one) = (if name.is_empty() { Some(Figure::plain(1.0)) } else { unit(name) }) else {
            return self.fail(from..from + name.len(), format!("`{name}` is no unit known here"));
        };
        self.at += name.len();
        Ok(Figure { si: number * one.si, of: one.of })
    }

    /// `12`, `12.5`, `1-1/8`, `7/8`: a fraction stands without spaces.
    fn number(&mut self) -> Result<f64, Fault> {
        let from = self.at;
        let whole = self.digits();
        let fraction = |scan: &mut Self| {
            let before = scan.at;
            let top = scan.digits();
            if !top.is_empty() && scan.rest().starts_with('/') {
                scan.at += 1;
                let bottom = scan.digits();
                if !bottom.is_empty() {
                    return Some((top, bottom));
                }
            }
            scan.at = before;
            None
        };
        let mut value: Result<f64, _> = whole.replace(',', "").parse();
        let rest = self.rest();
        if rest.starts_with('-') && !whole.contains('.') {
            self.at += 1;
            match fraction(self) {
                Some((top, bottom)) => value = part(top, bottom).and_then(|part| Ok(value? + part)),
                None => self.at -= 1,
            }
        } else if rest.starts_with('/') && !whole.contains('.') {
            self.at += 1;
            let bottom = self.digits();
            match bottom.is_empty() {
                false => value = part(whole, bottom),
                true => self.at -= 1,
            }
        }
        value.or_else(|_| self.fail(from..self.at, "this is no number".into()))
    }

    fn digits(&mut self) -> &'t str {
        let rest = self.rest();
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
        // A comma between two digits parts the thousands; any other ends a number.
        let bytes = rest.as_bytes();
        let thousands = rest[..end].len() < 4
            && bytes.get(end) == Some(&b',')
            && bytes.get(end + 1..end + 4).is_some_and(|three| three.iter().all(u8::is_ascii_digit));
        let end = if thousands { end + 4 } else { end };
        self.at += end;
        &rest[..end]
    }

    /// An earlier step by its name, or a call.
    fn named(&mut self) -> Result<Figure, Fault> {
        let from = self.at;
        let name = self.word();
        let at = from..self.at;
        if !self.rest().starts_with('(') {
            return match (name, self.known.name(name)) {
                ("pi", _) => Ok(Figure::plain(std::f64::consts::PI)),
                (_, Some((value, said))) => {
                    self.replaced.push((at, said));
                    Ok(value)
                }
                _ => self.unknown(at, name),
            };
        }
        let given = self.given()?;
        let plain: Vec<f64> = given.iter().filter_map(as_plain).collect();
        match (mathematics(name, &plain), plain.len() == given.len()) {
            (Some(value), true) => return Ok(Figure::plain(value)),
            _ if name == "sqrt" => return self.root(&given, at),
            _ => {}
        }
        match self.known.call(name, &given) {
            Some(Ok((value, said))) => {
                // What it was given is not shown apart from it.
                self.replaced.retain(|(at, _)| at.start < from);
                self.replaced.push((from..self.at, said));
                Ok(value)
            }
            Some(Err(message)) => self.fail(from..self.at, message),
            None => self.unknown(at, name),
        }
    }

    /// The square root of an area is a length.
    fn root(&self, given: &[Given], at: Range<usize>) -> Result<Figure, Fault> {
        match given {
            [Given::Figure(Figure { si, of })] if *si >= 0.0 && of.iter().all(|power| power % 2 == 0) => {
                Ok(Figure { si: si.sqrt(), of: of.map(|power| power / 2) })
            }
            _ => self.fail(at, "`sqrt` takes one figure whose root can be had".into()),
        }
    }

    fn given(&mut self) -> Result<Vec<Given>, Fault> {
        let from = self.at;
        self.at += 1;
        self.depth += 1;
        if self.depth > DEEPEST {
            return self.fail(from..from + 1, "too many brackets".into());
        }
        let mut given = Vec::new();
        self.space();
        if self.rest().starts_with(')') {
            self.depth -= 1;
            self.close(from)?;
            return Ok(given);
        }
        loop {
            self.space();
            given.push(self.one_given()?);
            self.space();
            if self.rest().starts_with(',') {
                self.at += 1;
                continue;
            }
            self.depth -= 1;
            self.close(from)?;
            return Ok(given);
        }
    }

    /// A word alone between its commas, unless it names an earlier step.
    fn one_given(&mut self) -> Result<Given, Fault> {
        let from = self.at;
        let word = self.word();
        self.space();
        let alone = !word.is_empty() && self.rest().starts_with([',', ')']);
        if alone && word != "pi" && self.known.name(word).is_none() {
            return Ok(Given::Word(word.to_owned()));
        }
        self.at = from;
        self.sum().map(Given::Figure)
    }

    /// Letters and digits from a letter on, with hyphens within.
    fn word(&mut self) -> &'t str {
        let rest = self.rest();
        if !rest.starts_with(|c: char| c.is_ascii_alphabetic()) {
            return "";
        }
        let end = rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '-')).unwrap_or(rest.len());
        let word = rest[..end].trim_end_matches('-');
        self.at += word.len();
        word
    }

    fn unknown<T>(&self, at: Range<usize>, name: &str) -> Result<T, Fault> {
        let names = self.known.names();
        let near = crate::text::nearest(name, names.iter().map(String::as_str).chain(MATHEMATICS));
        let message = format!("there is no `{name}` to reckon with");
        Err(Fault { at, message, near: near.map(str::to_owned) })
    }

    fn sign(&mut self, signs: &[char]) -> Option<char> {
        self.space();
        let sign = self.rest().chars().next().filter(|c| signs.contains(c))?;
        self.at += sign.len_utf8();
        Some(sign)
    }

    fn space(&mut self) {
        let rest = self.rest();
        self.at += rest.len() - rest.trim_start().len();
    }

    fn rest(&self) -> &'t str {
        &self.text[self.at..]
    }

    fn fail<T>(&self, at: Range<usize>, message: String) -> Result<T, Fault> {
        Err(Fault { at, message, near: None })
    }
}

fn part(top: &str, bottom: &str) -> Result<f64, std::num::ParseFloatError> {
    Ok(top.parse::<f64>()? / bottom.parse::<f64>()?)
}

/// The unit that the text begins with; empty where it begins with none.
fn unit_name(text: &str) -> &str {
    for squared in ["sq in", "sq ft"] {
        if text.starts_with(squared) {
            return &text[..squared.len()];
        }
    }
    if text.starts_with('%') {
        return "%";
    }
    if !text.starts_with(|c: char| c.is_ascii_alphabetic()) {
        return "";
    }
    let letters = |from: usize| {
        let rest = &text[from..];
        from + rest.find(|c: char| !(c.is_ascii_alphanumeric())).unwrap_or(rest.len())
    };
    let first = letters(0);
    // `lb/ft`, `ft/min`: two units that go by one name.
    if text[first..].starts_with('/') {
        let both = &text[..letters(first + 1)];
        if both.len() > first + 1 && unit(both).is_some() {
            return both;
        }
    }
    &text[..first]
}

const MATHEMATICS: [&str; 7] = ["sin", "cos", "tan", "exp", "round-up", "sqrt", "pi"];

fn mathematics(name: &str, given: &[f64]) -> Option<f64> {
    let [x] = given else { return None };
    Some(match name {
        "sin" => x.sin(),
        "cos" => x.cos(),
        "tan" => x.tan(),
        "exp" => x.exp(),
        "round-up" => (x - 1e-9).ceil(),
        "sqrt" if *x >= 0.0 => x.sqrt(),
        _ => return None,
    })
}

fn as_plain(given: &Given) -> Option<f64> {
    match given {
        Given::Figure(Figure { si, of }) if *of == [0; 4] => Some(*si),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Names;

    impl Known for Names {
        fn name(&self, name: &str) -> Option<(Figure, String)> {
            (name == "leg").then(|| (Figure::length(2.0), "2 m".into()))
        }

        fn call(&mut self, name: &str, given: &[Given]) -> Option<Result<(Figure, String), String>> {
            (name == "laying").then(|| match given {
                [Given::Word(part)] if part == "sweep-90" => Ok((Figure::length(0.2), "0.2 m".into())),
                _ => Err("no such part".into()),
            })
        }

        fn names(&self) -> Vec<String> {
            vec!["leg".into(), "laying".into()]
        }
    }

    fn si(text: &str) -> f64 {
        reckon(text, &mut Names).unwrap().figure.si
    }

    fn fault(text: &str) -> Fault {
        reckon(text, &mut Names).unwrap_err()
    }

    #[test]
    fn reckons_with_units() {
        let near =
            |text: &str, wanted: f64| assert!((si(text) - wanted).abs() < 1e-12, "{text}: {}", si(text));
        near("1 + 2 * 3^2", 19.0);
        near("2 * 7 in * tan(45 deg) - 7 in * 90 deg", (14.0 - 7.0 * 90f64.to_radians()) * 0.0254);
        near("5 ft 4-1/2 in", 64.5 * 0.0254);
        near("7/8 in", 0.875 * 0.0254);
        near("leg - 2 * laying(sweep-90)", 1.6);
        near("sqrt((8 in)^2 + (12 in)^2)", 208f64.sqrt() * 0.0254);
        near("round-up(44 ft / 8 ft)", 6.0);
        near("1,200 ft / 2 ft", 600.0);
        near("40 ft * 110 %", 44.0 * 0.3048);
        near("8 - -2", 10.0);
        near("2.125/3.5", 2.125 / 3.5);
    }

    #[test]
    fn tells_what_is_wrong_and_where() {
        assert_eq!(fault("1 ft + 2 lb").message, "a length and a force cannot be added");
        assert_eq!(fault("lieg * 2").near.as_deref(), Some("leg"));
        assert_eq!((fault("2 * (3 + 4").at, fault("2 +").message), (4..10, "the sum ends too early".into()));
        assert_eq!(fault("laying(sweep-9)").message, "no such part");
        assert_eq!(fault("3 yards").message, "`yards` is no unit known here");
        assert_eq!(fault("1 / 0").message, "the sum comes to no number");
        assert_eq!(fault("2 3").message, "`3` is left over");
        assert!(fault(&"(".repeat(1000)).message.contains("too many"));
    }

    #[test]
    fn keeps_what_names_and_calls_stand_for() {
        let text = "leg - 2 * laying(sweep-90)";
        let replaced = reckon(text, &mut Names).unwrap().replaced;
        let shown: Vec<_> = replaced.iter().map(|(at, said)| (&text[at.clone()], said.as_str())).collect();
        assert_eq!(shown, [("leg", "2 m"), ("laying(sweep-90)", "0.2 m")]);
    }

    proptest::proptest! {
        #[test]
        fn never_panics(text in ".{0,40}") {
            let _ = reckon(&text, &mut Names);
        }
    }
}
