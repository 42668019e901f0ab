//! The sheet of checks: every line once, phase by phase, a column of boxes for each inlet, and the
//! readings with what to expect beside each blank.
use super::Source;
use super::cover::level_word;
use super::here::Here;
use super::inline::inlined;
use super::paper;
use super::sheet::clause_page;
use super::valve::{self, ValveLine};
use super::worked::{InletPart, Worked};
use crate::company::{Phase, Standard, Valve};
use crate::figures::{Call, Reading, ReadingKind};
use crate::standard::{lines, lines_of_job};
use crate::text::slug;
use serde::Serialize;

/// Checks of a job, as far as one sheet holds them.
#[derive(Debug, Clone, Serialize)]
pub struct Check {
    /// The inlets, a column each.
    pub columns: Vec<String>,
    pub phases: Vec<PhaseList>,
    /// Readings, on the last sheet of a group of inlets.
    pub readings: Vec<ReadingRow>,
    pub valves: Vec<ValvePicture>,
}

/// A rough-in box or frame in its wall, and whose it is.
#[derive(Debug, Clone, Serialize)]
pub struct ValvePicture {
    pub name: String,
    pub valve_svg: String,
}

/// The lines of a phase.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PhaseList {
    pub name: &'static str,
    /// What is ticked once for the job.
    pub job: Vec<CheckLine>,
    /// What is ticked inlet by inlet.
    pub lines: Vec<CheckLine>,
}

/// A line to tick.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CheckLine {
    pub text: String,
    /// Number of its clause; empty for what follows from the valve.
    pub number: String,
    pub href: String,
    /// `must`, `should`, or where it comes from.
    pub level: String,
    /// A box for each column, or one for the job.
    pub boxes: Vec<TickCell>,
}

/// A box, or the blank of an inlet that the line does not concern.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct TickCell {
    /// Under which name the tick is kept; empty for no box.
    pub note: String,
    /// What is ticked, for a reader that sees no table.
    pub label: String,
    /// What stands beside the box, where the line differs from inlet to inlet; empty for nothing.
    pub words: &'static str,
}

impl TickCell {
    /// A box with nothing beside it.
    pub fn new(note: String, label: String) -> TickCell {
        TickCell { note, label, words: "" }
    }
}

/// A reading to take, with what it should be.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadingRow {
    pub name: &'static str,
    pub how: &'static str,
    pub cells: Vec<ReadingCell>,
}

/// A reading at an inlet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReadingCell {
    /// What is expected and where the limit lies.
    pub expected: String,
    /// What was read, when it was typed in.
    pub taken: String,
    pub note: String,
    pub label: String,
}

/// So many inlets stand side by side; more take another sheet.
const COLUMNS: usize = 4;
/// Width of a column of boxes, mm.
const COLUMN_MM: f64 = 16.0;
/// Width of the names of the readings, of the blank of each, and between columns, mm.
const READING_NAME_MM: f64 = 48.0;
const BLANK_MM: f64 = 14.5;
const GAP_MM: f64 = 2.0;
/// Size of the words, points.
const SIZE_PT: f64 = 9.0;

/// A phase in words.
pub fn phase_name(phase: Phase) -> &'static str {
    match phase {
        Phase::Load => "Load the truck",
        Phase::RoughIn => "Rough-in",
        Phase::Trim => "Trim",
        Phase::Prove => "Prove",
        Phase::HandOver => "Hand over",
    }
}

/// Lays the sheets out: inlets in groups that fit side by side, phases split where a sheet is full.
pub fn sheets(source: &Source) -> Vec<Check> {
    let inlets: Vec<InletPart> = source.worked.inlets().collect();
    let groups = inlets.len().div_ceil(COLUMNS).max(1);
    let each = inlets.len().div_ceil(groups).max(1);
    let here = source.here(super::Kind::Check);
    let group = |(nth, parts): (usize, &[InletPart])| group(source, parts, nth == 0, &here);
    inlets.chunks(each).enumerate().flat_map(group).collect()
}

/// The sheets of some inlets; what is ticked once for the job stands with the first.
fn group(source: &Source, parts: &[InletPart], first: bool, here: &Here) -> Vec<Check> {
    let worked = source.worked;
    let rows = rows(worked, parts, first, here);
    let words_mm = paper::width_mm(worked.firm.paper) - COLUMN_MM * parts.len() as f64;
    let mut heights: Vec<f64> = rows.iter().map(|(_, row)| row_mm(row, words_mm)).collect();
    for i in 0..rows.len() {
        // The first line of a phase brings its heading with it.
        if i == 0 || rows[i].0 != rows[i - 1].0 {
            heights[i] += PHASE_MM;
        }
    }
    let readings = readings(worked, parts);
    let tail_mm = READINGS_MM + readings.iter().map(reading_mm).sum::<f64>();
    // The readings stand after the last line, and take their room from it.
    if let Some(last) = heights.last_mut() {
        *last += tail_mm;
    }
    let room_mm = super::room_mm(worked, super::Kind::Check) - HEAD_MM;
    let pages = paper::pages(&heights, room_mm, 0.0);
    let count = pages.len();
    let columns: Vec<String> = parts.iter().map(|part| part.inlet.name.clone()).collect();
    let sheet = |(nth, range): (usize, std::ops::Range<usize>)| Check {
        columns: columns.clone(),
        phases: phases(&rows[range]),
        readings: if nth + 1 == count { readings.clone() } else { Vec::new() },
        valves: Vec::new(),
    };
    let mut sheets: Vec<Check> = pages.into_iter().enumerate().map(sheet).collect();
    let used_mm: f64 = heights.iter().sum();
    if count == 1
        && room_mm - used_mm > VALVE_MM
        && let Some(only) = sheets.first_mut()
    {
        only.valves = valve_pictures(source, parts);
    }
    sheets
}

/// What stands under a phase: the lines of the job together, in two columns, or a line of the inlets.
enum Row {
    Job(Vec<CheckLine>),
    Line(CheckLine),
}

/// Every row with its phase. What is ticked at loading stands on the load sheet, what at handing over on the
/// owner's.
fn rows(worked: &Worked, parts: &[InletPart], first: bool, here: &Here) -> Vec<(&'static str, Row)> {
    let standard = worked.work.standard;
    let of_phase = |when: Phase| {
        let job = if first { job_lines(worked, when, here) } else { Vec::new() };
        let job = (!job.is_empty()).then_some(Row::Job(job));
        let lines = inlet_lines(standard, parts, when, here).into_iter().map(Row::Line);
        job.into_iter().chain(lines).map(move |row| (phase_name(when), row)).collect::<Vec<_>>()
    };
    [Phase::RoughIn, Phase::Trim, Phase::Prove].into_iter().flat_map(of_phase).collect()
}

/// Height of the head of the table, of a phase's heading, of the head of the readings, of the valves'
/// pictures, mm.
const HEAD_MM: f64 = 5.5;
const PHASE_MM: f64 = 5.6;
const READINGS_MM: f64 = 8.0;
const VALVE_MM: f64 = 66.0;

/// Width of the words in one of the two columns of the job's lines, mm.
const JOB_MM: f64 = 84.0;

/// Height of a row, mm.
fn row_mm(row: &Row, words_mm: f64) -> f64 {
    let line_mm = |line: &CheckLine, room_mm: f64| {
        let words = format!("{} ({})", line.text, line.number);
        (paper::words_mm(&words, SIZE_PT, room_mm) * TIGHT).max(3.9) + 0.35
    };
    match row {
        Row::Line(line) => line_mm(line, words_mm - 1.0),
        Row::Job(lines) => {
            let heights = lines.iter().map(|line| line_mm(line, JOB_MM));
            let heights: Vec<f64> = heights.collect();
            // The columns are filled as evenly as may be, but no line is split.
            let higher = |at: usize| heights[..at].iter().sum::<f64>().max(heights[at..].iter().sum());
            (0..=heights.len()).map(higher).fold(f64::INFINITY, f64::min) + 0.6
        }
    }
}

/// A line of the checks as a part of one elsewhere: the style sets them closer.
const TIGHT: f64 = 1.2 / paper::LINE;

/// Height of a reading, mm.
fn reading_mm(row: &ReadingRow) -> f64 {
    let column_mm = (182.0 - READING_NAME_MM) / row.cells.len().max(1) as f64 - GAP_MM;
    let cell = |cell: &ReadingCell| {
        let taken = if cell.taken.is_empty() { BLANK_MM } else { BLANK_MM + 12.0 };
        paper::words_mm(&cell.expected, SIZE_PT, (column_mm - taken).max(12.0)) * TIGHT
    };
    let name = paper::words_mm(&format!("{} {}", row.name, row.how), SIZE_PT, READING_NAME_MM) * TIGHT;
    row.cells.iter().map(cell).fold(name.max(7.2), f64::max) + 0.8
}

/// Rows back under the names of their phases.
fn phases(rows: &[(&'static str, Row)]) -> Vec<PhaseList> {
    let mut phases: Vec<PhaseList> = Vec::new();
    for (name, row) in rows {
        if phases.last().is_none_or(|phase| phase.name != *name) {
            phases.push(PhaseList { name, job: Vec::new(), lines: Vec::new() });
        }
        match (phases.last_mut(), row) {
            (Some(phase), Row::Job(lines)) => phase.job.extend(lines.iter().cloned()),
            (Some(phase), Row::Line(line)) => phase.lines.push(line.clone()),
            (None, _) => {}
        }
    }
    phases
}

/// Every line of one phase, for the sheet of that phase; a line of several inlets has one box for them all.
pub fn of_phase(source: &Source, kind: super::Kind, phase: Phase) -> Vec<CheckLine> {
    let parts: Vec<InletPart> = source.worked.inlets().collect();
    let here = source.here(kind);
    let standard = source.worked.work.standard;
    let inlets = inlet_lines(standard, &parts, phase, &here).into_iter();
    job_lines(source.worked, phase, &here).into_iter().chain(inlets).collect()
}

/// What is ticked once for the job.
fn job_lines(worked: &Worked, when: Phase, here: &Here) -> Vec<CheckLine> {
    let standard = worked.work.standard;
    let valves: Vec<&Valve> = worked.work.job.inlets.iter().map(|inlet| &inlet.valve).collect();
    let line = |(clause, line): (&crate::company::ClauseText, &crate::company::ByEye)| CheckLine {
        text: line.tick.clone(),
        number: clause.number.clone(),
        href: here.to(&clause_page(&standard.revision, &clause.id), ""),
        level: level_word(clause.level).into(),
        boxes: vec![TickCell::new(format!("job/ticks/{}", clause.id), line.tick.clone())],
    };
    lines_of_job(standard, when, &valves).into_iter().map(line).collect()
}

/// What is ticked for each inlet, a line that concerns several standing once: clauses in the order of the
/// standard, then what follows from the valves.
fn inlet_lines(standard: &Standard, parts: &[InletPart], when: Phase, here: &Here) -> Vec<CheckLine> {
    let mut rows: Vec<CheckLine> = Vec::new();
    let mut add = |(text, beside): (&str, &'static str),
                   (number, href, level): (&str, String, &str),
                   column: usize,
                   id: &str| {
        let part = &parts[column];
        let cell = TickCell {
            note: format!("inlets/{}/ticks/{id}", part.inlet.id),
            label: format!("{}: {text} {beside}", part.inlet.name).trim_end().to_string(),
            words: beside,
        };
        let place = rows.iter().position(|row| row.text == text).unwrap_or_else(|| {
            rows.push(CheckLine {
                text: text.into(),
                number: number.into(),
                href,
                level: level.into(),
                boxes: vec![TickCell::default(); parts.len()],
            });
            rows.len() - 1
        });
        rows[place].boxes[column] = cell;
    };
    let of_part = |part: &InletPart| lines(standard, when, &part.inlet.valve);
    let of_parts: Vec<Vec<_>> = parts.iter().map(of_part).collect();
    for clause in standard.clauses() {
        for (column, told) in of_parts.iter().enumerate() {
            for (_, line) in told.iter().filter(|(other, _)| other.id == clause.id) {
                let href = here.to(&clause_page(&standard.revision, &clause.id), "");
                add((&line.tick, ""), (&clause.number, href, level_word(clause.level)), column, &clause.id);
            }
        }
    }
    for (column, part) in parts.iter().enumerate() {
        let of_valve = || ("", String::new(), "this valve");
        let spoken = |line: &ValveLine| spoken_for(standard, part, when, line);
        for told in valve::word_lines(&part.inlet.valve) {
            if told.line.when == when && !spoken(&told.line) {
                add((told.line.words, told.beside), of_valve(), column, &slug(told.line.words));
            }
        }
        for line in valve_lines(standard, part, when) {
            add((line.words, ""), of_valve(), column, &slug(line.words));
        }
    }
    rows
}

/// What follows from the valve itself, as far as no clause of the firm speaks of it at that phase.
fn valve_lines(standard: &Standard, part: &InletPart, phase: Phase) -> Vec<ValveLine> {
    let unsaid = |line: &ValveLine| line.when == phase && !spoken_for(standard, part, phase, line);
    valve::lines(&part.inlet.valve).into_iter().filter(unsaid).collect()
}

/// Whether a clause of the firm speaks of that line at its phase.
fn spoken_for(standard: &Standard, part: &InletPart, phase: Phase, line: &ValveLine) -> bool {
    let clauses = lines(standard, phase, &part.inlet.valve);
    clauses.iter().any(|(_, clause)| valve::spoken_for(line, clause))
}

/// The rough-in of each valve, one picture to each kind.
fn valve_pictures(source: &Source, parts: &[InletPart]) -> Vec<ValvePicture> {
    let mut seen: Vec<(String, Vec<String>, usize)> = Vec::new();
    for part in parts {
        let id = &part.inlet.valve.id;
        match seen.iter_mut().find(|(valve, ..)| valve == id) {
            Some((_, names, _)) => names.push(part.inlet.name.clone()),
            None => seen.push((id.clone(), vec![part.inlet.name.clone()], part.index)),
        }
    }
    let picture = |(_, names, index): (String, Vec<String>, usize)| {
        let svg = source.pictures.inlets.get(index)?.valve_box.as_deref()?;
        Some(ValvePicture {
            name: names.join(", "),
            valve_svg: inlined(Some(svg), &format!("i{}v-", index + 1)),
        })
    };
    seen.into_iter().filter_map(picture).take(2).collect()
}

/// The four readings, an inlet to a column.
fn readings(worked: &Worked, parts: &[InletPart]) -> Vec<ReadingRow> {
    const READINGS: [(ReadingKind, &str, &str, &str); 4] = [
        (
            ReadingKind::SealedSuction,
            "Sealed suction",
            "gauge on the valve, other valves shut",
            "sealed-suction",
        ),
        (ReadingKind::Flow, "Airflow", "flow meter on the hose end, hose pulled out", "flow"),
        (ReadingKind::DrawIn, "Draw-in", "scale on handle, end covered, last foot", "draw-in"),
        (ReadingKind::PullOut, "Pull-out", "scale on handle, to full length", "pull-out"),
    ];
    let reading = |(kind, name, how, key): (ReadingKind, &'static str, &'static str, &str)| ReadingRow {
        name,
        how,
        cells: parts.iter().map(|part| reading_cell(worked, part, name, key, kind)).collect(),
    };
    READINGS.map(reading).into()
}

/// One reading at one inlet.
fn reading_cell(worked: &Worked, part: &InletPart, name: &str, key: &str, kind: ReadingKind) -> ReadingCell {
    let say = worked.work.say;
    let known = worked.work.readings(part.index).iter().flatten().find(|reading| reading.kind == kind);
    let taken = &part.inlet.readings;
    let read = match kind {
        ReadingKind::SealedSuction => taken.sealed_suction_pa,
        ReadingKind::Flow => taken.flow_m3_s,
        ReadingKind::DrawIn => taken.draw_in_n,
        ReadingKind::PullOut => taken.pull_out_n,
    };
    let read = read.map(|taken| kind.taken_words(&say, taken));
    let verdict = match known.and_then(Reading::call) {
        Some(Call::Pass) => ": pass",
        Some(Call::Call) => ": CALL",
        None => "",
    };
    let expected = known.map(|reading| reading.words(&say));
    let read = read.map(|read| format!("{read}{verdict}"));
    ReadingCell {
        expected: expected
            .map_or_else(|| "not worked out".into(), |words| words.trim_start_matches("about ").into()),
        taken: read.unwrap_or_default(),
        note: format!("inlets/{}/readings/{key}", part.inlet.id),
        label: format!("{}: {name}", part.inlet.name),
    }
}
