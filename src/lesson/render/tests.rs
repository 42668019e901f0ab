//! What a lesson may hold, and what is said when it is wrong.

use super::*;
use crate::text::Severity;

/// Knows two clauses and two lessons, and draws any route but one that says `broken`.
#[derive(Default)]
pub(super) struct Hand {
    drawn: Vec<(String, usize)>,
}

impl Blocks for Hand {
    fn raceway(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        self.drawn.push((text.to_owned(), line));
        if text.contains("broken") {
            let fault = Diagnostic::of_file("a.md", "the path has no run", None);
            return Err(vec![Diagnostic { line, column: 1, len: 6, ..fault }]);
        }
        Ok("<svg></svg>".to_owned())
    }

    fn plan(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        self.raceway(text, line)
    }

    fn practice(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        self.raceway(text, line)
    }

    fn tree(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        self.raceway(text, line)
    }

    fn drawing(&mut self, text: &str, line: usize) -> Result<String, Vec<Diagnostic>> {
        self.raceway(text, line)
    }

    fn judge(&mut self, _: Speaks, breaks: &[String]) -> Result<Judged, Refusal> {
        if breaks.iter().any(|id| id != "fitting-room") {
            return Err(Refusal::Asked(Refused {
                message: "this raceway does not break it".into(),
                help: None,
            }));
        }
        let part = |mark: &str| Part { mark: mark.into(), words: mark.into() };
        Ok(Judged {
            html: "<svg></svg>".into(),
            parts: vec![part("leg-1"), part("AB1"), part("leg-2")],
            wrong: vec![vec!["AB1".into(), "leg-2".into()]],
            told: vec!["Room for fittings: they collide".into()],
        })
    }

    fn link(&mut self, to: Target, id: &str) -> Option<String> {
        let known = self.names(to).iter().any(|name| name == id);
        known.then(|| format!("../{}/{id}.html", to.word()))
    }

    fn picture(&mut self, path: &str) -> Result<Picture, Refused> {
        match path.ends_with(".svg") {
            true => Ok(Picture { data_uri: format!("data:,{path}"), wide_px: 3, high_px: 2 }),
            false => Err(Refused { message: format!("there is no picture {path}"), help: None }),
        }
    }

    fn names(&self, to: Target) -> Vec<String> {
        let names = match to {
            Target::Clause => ["bend-total", "hose-room"],
            Target::Lesson => ["bends", "joints"],
        };
        names.map(str::to_owned).to_vec()
    }

    fn figure(&mut self, name: &str, given: &[Given]) -> Option<Result<Figure, String>> {
        (name == "path").then(|| match given {
            [] => Ok(Figure::length(12.0)),
            _ => Err("`path` takes nothing".to_owned()),
        })
    }

    fn figures(&self) -> Vec<String> {
        vec!["path".to_owned()]
    }

    fn say(&self) -> Say {
        Say { lengths: crate::measure::Lengths::Metric }
    }
}

pub(super) fn lesson(body: &str) -> Lesson {
    render("a.md", body, 0, &mut Hand::default())
}

/// The HTML of a lesson that must have nothing wrong with it.
pub(super) fn sound(body: &str) -> String {
    let lesson = lesson(body);
    assert_eq!(lesson.faults, [], "{}", lesson.html);
    lesson.html
}

/// The one problem of a lesson, with the text that it marks.
pub(super) fn only_problem(body: &str) -> (Diagnostic, String) {
    let problems = lesson(body).faults;
    assert_eq!(problems.len(), 1, "{problems:?}");
    let problem = problems[0].clone();
    let line = body.lines().nth(problem.line - 1).unwrap();
    let marked = line.chars().skip(problem.column - 1).take(problem.len).collect();
    (problem, marked)
}

#[test]
fn headings_have_ids_of_their_own() {
    let lesson = lesson("## Why *360*?\n\n### Why 360?\n\n## `R·tan`\n");
    let ids: Vec<_> = lesson.headings.iter().map(|h| (h.level, h.id.as_str(), h.text.as_str())).collect();
    assert_eq!(ids, [(2, "why-360", "Why 360?"), (3, "why-360-2", "Why 360?"), (2, "r-tan", "R·tan")]);
    assert!(lesson.html.contains("<h2 id=\"why-360\">Why <em>360</em>?</h2>"), "{}", lesson.html);
}

#[test]
fn a_lesson_of_more_drawings_than_a_phone_holds_is_told_at_the_first_too_many() {
    let most = crate::company::DRAWINGS.most;
    let block = "```raceway\npath: []\n```\n\n";
    assert_eq!(sound(&block.repeat(most)).matches("<svg>").count(), most);
    let lesson = lesson(&block.repeat(1_000));
    let [told] = &lesson.faults[..] else { panic!("told once: {:?}", lesson.faults) };
    assert_eq!((told.line, told.column), (4 * most + 1, 4));
    assert_eq!(told.message, "the lesson has 1000 drawings; at most 60");
    assert!(told.help.as_deref().is_some_and(|help| help.contains("make two lessons of it")), "{told:?}");
    assert_eq!(lesson.html.matches("<svg>").count(), most);
    // Those of questions count too.
    let ask = "```questions\n- ask: Good?\n  raceway: {path: []}\n  right: Yes\n  wrong: [No]\n  because: So.\n```\n";
    let (told, marked) = only_problem(&(block.repeat(most) + ask));
    assert_eq!((told.line, marked.as_str()), (4 * most + 3, "  raceway: {path: []}"));
}

#[test]
fn every_alert_is_told_by_its_word() {
    let words = [("NOTE", "Notice"), ("TIP", "Notice"), ("IMPORTANT", "Notice"), ("WARNING", "Warning")];
    for (kind, word) in words.into_iter().chain([("CAUTION", "Caution")]) {
        let html = sound(&format!("> [!{kind}]\n> Open a *window*.\n"));
        assert!(html.contains(&format!(">{word}</b> 1</p>")), "{html}");
        assert!(html.contains("<p>Open a <em>window</em>.</p>\n</aside>"), "{html}");
        assert!(!html.contains("blockquote"), "{html}");
    }
    assert!(sound("> only a quotation\n").contains("<blockquote>"));
}

#[test]
fn notes_are_numbered_as_referred_to_and_lead_back() {
    let html = sound("One[^b], two[^a], again[^b].\n\n[^a]: First *written*.\n\n[^b]: Then this.\n");
    assert!(html.contains("<a id=\"mark.1\" href=\"#note.1\" aria-label=\"Note 1\">1</a>"), "{html}");
    assert!(html.contains("<li id=\"note.1\">\n<p>Then this.</p>"), "{html}");
    assert!(html.contains("<li id=\"note.2\">\n<p>First <em>written</em>.</p>"), "{html}");
    assert!(html.contains("href=\"#mark.1.2\""), "{html}");
    assert!(html.trim_end().ends_with("</ol></div>"), "{html}");
}

#[test]
fn notes_that_miss_their_other_half_are_problems() {
    let (unused, _) = only_problem("Text.\n\n[^a]: Nobody asks.\n");
    assert_eq!((unused.line, unused.column), (3, 1));
    assert_eq!(unused.message, "nothing refers to the note `a`");
    let (missing, marked) = only_problem("One line.\nTwo[^gone] lines.\n");
    assert_eq!((missing.message.as_str(), marked.as_str()), ("there is no note `gone`", "[^gone]"));
    assert_eq!((missing.line, missing.column), (2, 4));
    let (twice, _) = only_problem("One[^a].\n\n[^a]: x\n\n[^a]: y\n");
    assert_eq!(twice.line, 5);
    sound("Written \\[^so\\] or `[^so]`, it is no note.\n");
}

#[test]
fn tables_scroll_and_name_their_columns() {
    let html = sound("| | a | b |\n|-|-:|:-:|\n| x | 1 | `2` |\n");
    assert!(
        html.starts_with("<div class=\"wide\" role=\"group\" tabindex=\"0\" aria-label=\"Table 1\"><table>")
    );
    assert!(html.contains("<thead><tr><td></td><th scope=\"col\" class=\"to-right\">a</th>"), "{html}");
    assert!(
        html.contains("<td class=\"to-middle\"><code>2</code></td></tr>\n</tbody></table></div>"),
        "{html}"
    );
}

#[test]
fn formulas_become_mathml() {
    let html = sound("Take $R\\tan(a/2)$ off:\n\n$$a < b$$\n");
    assert!(html.contains("<p>Take <span class=\"within-line\"><math display=\"inline\">"), "{html}");
    assert!(html.contains("aria-label=\"formula\"><math display=\"block\">"), "{html}");
    assert!(html.contains("&lt;"), "{html}");
    assert!(sound("costs $5 and $6 a foot\n").contains("costs $5 and $6 a foot"));
}

#[test]
fn a_fault_in_a_formula_is_marked_where_it_stands() {
    let (problem, marked) = only_problem("Short.\n\nTake off $R \\tann(a)$ twice.\n");
    assert_eq!((problem.line, problem.column, marked.as_str()), (3, 13, "\\tann"));
    let (problem, marked) = only_problem("$$a^b^c$$\n");
    assert_eq!((problem.column, marked.as_str()), (3, "a^b^c"));
    let (problem, marked) = only_problem("So $$\\frac{a}{$$ it is.\n");
    assert_eq!((problem.line, problem.column, marked.as_str()), (1, 4, "$$"));
    sound("Two signs, \\$\\$, are no formula; nor is `$$`.\n");
    assert!(lesson("$\\tann$").html.contains("<code class=\"missing\">\\tann</code>"));
}

#[test]
fn links_to_clauses_and_lessons_are_resolved() {
    let html =
        sound("[a](clause:bend-total) [b](lesson:joints#cement) [c](https://example.org/) <x@example.org>\n");
    assert!(html.contains("<a href=\"../clause/bend-total.html\">a</a>"), "{html}");
    assert!(html.contains("<a href=\"../lesson/joints.html#cement\">b</a>"), "{html}");
    assert!(html.contains("<a href=\"https://example.org/\">c</a>"), "{html}");
    assert!(html.contains("<a href=\"mailto:x@example.org\">"), "{html}");
    assert!(sound("[a][t]\n\n[t]: clause:hose-room\n").contains("../clause/hose-room.html"));
}

#[test]
fn an_unknown_name_is_marked_and_the_one_meant_is_told() {
    let (problem, marked) = only_problem("First.\n\nSee [the *total*](clause:bend-totl) now.\n");
    assert_eq!(problem.message, "there is no clause `bend-totl`");
    assert_eq!(problem.help.as_deref(), Some("write `clause:bend-total`"));
    assert_eq!((problem.line, problem.column, marked.as_str()), (3, 19, "clause:bend-totl"));
    let html = lesson("See [the *total*](clause:bend-totl) now.\n").html;
    assert!(html.contains("<span class=\"missing\">the <em>total</em></span> now"), "{html}");
    assert_eq!(only_problem("[x](lesson:zzzzzz)\n").0.help, None);
}

#[test]
fn a_link_within_the_lesson_must_meet_a_heading() {
    sound("[down](#the-count)\n\n## The count\n");
    let (problem, marked) = only_problem("[down](#the-cout)\n\n## The count\n");
    assert_eq!(problem.help.as_deref(), Some("write `#the-count`"));
    assert_eq!(marked, "#the-cout");
}

#[test]
fn a_link_that_runs_a_script_is_refused() {
    for link in ["javascript:x()", "JavaScript:x()", "java&#10;script:x()", "data:text/html,x", " vbscript:x"]
    {
        let lesson = lesson(&format!("[go](<{link}>) and ![p](<{link}>)\n"));
        assert_eq!(lesson.faults.len(), 2, "{link}");
        assert!(!lesson.html.contains("href") && !lesson.html.contains("script:"), "{}", lesson.html);
    }
    sound("[go](datasheet.html) [on](javascript.html)\n");
}

#[test]
fn an_image_keeps_the_words_of_its_description() {
    let html = sound("![a *wide* sweep of $R$](sweep.svg)\n");
    assert!(html.contains("alt=\"a wide sweep of $R$\""), "{html}");
}

#[test]
fn a_picture_stands_in_the_page_or_is_told() {
    assert!(
        sound("![a sweep](a.svg)\n")
            .contains("<img src=\"data:,a.svg\" alt=\"a sweep\" width=\"3\" height=\"2\">")
    );
    let (problem, marked) = only_problem("Look: ![a sweep](gone.png)\n");
    assert_eq!((problem.message.as_str(), marked.as_str()), ("there is no picture gone.png", "gone.png"));
    let (problem, _) = only_problem("![](a.svg)\n");
    assert!(problem.message.contains("no words") && problem.severity == Severity::Warning);
}

#[test]
fn of_the_firms_own_html_only_what_is_listed_stays() {
    let body = "A <b>wide <script>alert(1)</script></b> <kbd onclick=\"x()\">sweep</kbd>.\n\n<details>\n<summary>More</summary>\n\n\
                ```raceway\nleaves: up\n```\n\n</details>\n\n<script>\nalert(2)\n</script>\n\n\
                <style>\np{}\n\nAfter.\n";
    let lesson = lesson(body);
    assert!(lesson.html.contains("A <b>wide alert(1)</b> <kbd>sweep</kbd>."), "{}", lesson.html);
    let details = lesson.html.find("<svg></svg>").unwrap();
    assert!(lesson.html[..details].contains("<summary>More</summary>"), "{}", lesson.html);
    assert!(lesson.html[details..].contains("</details>"), "{}", lesson.html);
    assert!(!lesson.html.contains("alert(2)") && !lesson.html.contains("style"), "{}", lesson.html);
    let told: Vec<(usize, &str)> = lesson.faults.iter().map(|f| (f.line, f.message.as_str())).collect();
    let want = [
        (1, "`<script>` is left out of the page"),
        (1, "`onclick` of `<kbd>` is left out of the page"),
        (12, "`<script>` is left out of the page"),
        (16, "`<style>` is left out of the page"),
    ];
    assert_eq!(told, want);
    assert!(lesson.faults.iter().all(|fault| fault.severity == Severity::Warning));
}

/// Ways round a cleaner that are commonly tried; from memory after the OWASP filter evasion sheet.
#[test]
fn html_that_acts_never_reaches_the_page() {
    for body in [
        "<img src=x onerror=alert(1)>",
        "<a href=\"java&#x0A;script:alert(1)\">x</a>",
        "<svg><script>alert(1)</script></svg>",
        "<math><mi//xlink:href=\"data:x,<script>alert(1)</script>\">",
        "<div\nonmouseover='alert(1)'>x</div>",
        "<iframe srcdoc=\"<script>alert(1)</script>\"></iframe>",
        "<form action=x><input onfocus=alert(1) autofocus></form>",
        "x <b/onclick=alert(1)>y</b>",
        "<!--><img src=x onerror=alert(1)>-->",
        "<a title=\"\n\n> [!NOTE]\n> x\n\n\" href=x>y</a>",
        "<noscript><p title=\"</noscript><img src=x onerror=alert(1)>\">",
        "<base href=http://x/><object data=x><embed src=x><link rel=stylesheet href=x><meta http-equiv=refresh>",
    ] {
        let html = lesson(&format!("{body}\n\n| a |\n|-|\n| b |\n")).html;
        let tags: Vec<&str> = html.split('<').skip(1).filter_map(|rest| rest.split('>').next()).collect();
        for tag in tags {
            let bare: String = tag.split('"').step_by(2).collect();
            let lower = bare.to_lowercase();
            let acts = [
                "script", "iframe", "img", "form", "input", "svg", "math", "base", "object", "embed", "link",
                "meta",
            ]
            .iter()
            .any(|name| lower.trim_start_matches('/').starts_with(name));
            assert!(!acts && !lower.contains(" on") && !tag.contains("script:"), "{body}: {html}");
        }
    }
}

#[test]
fn raceway_blocks_are_handed_over_with_their_line() {
    let mut hand = Hand::default();
    let lesson = render("a.md", "One.\n\n```raceway\nleaves: up\nhose: x\n```\n\nTwo.\n", 0, &mut hand);
    assert_eq!(hand.drawn, [("leaves: up\nhose: x\n".to_owned(), 4)]);
    assert_eq!(lesson.html, "<p>One.</p>\n<svg></svg>\n<p>Two.</p>\n");
    assert_eq!(lesson.text, "One.\nTwo.\n");
}

#[test]
fn a_route_that_cannot_be_drawn_leaves_a_sentence_in_its_place() {
    let (problem, _) = only_problem("```raceway\nbroken\n```\n");
    assert_eq!(problem.line, 2);
    let html = lesson("```raceway\nbroken\n```\n\nMore.\n").html;
    assert!(html.contains("<strong>Missing drawing:</strong> the path has no run."), "{html}");
    assert!(html.contains("<p>More.</p>"), "{html}");
}

#[test]
fn a_misspelt_block_is_told_and_other_code_is_left_alone() {
    let (problem, marked) = only_problem("```racway\nleaves: up\n```\n");
    assert_eq!((problem.help.as_deref(), marked.as_str()), (Some("write `raceway`"), "racway"));
    assert!(sound("```yaml\na: \"b\"\n```\n").contains("<code class=\"language-yaml\">a: &quot;b&quot;"));
    sound("```\nplain\n```\n");
}

#[test]
fn the_text_for_searching_has_words_and_no_markup() {
    let body = "## Sweeps\n\nFew *and* wide[^a], `short-90`.\n\n| a | b |\n|-|-|\n| c | d |\n\n- one\n- two\n\n[^a]: So it is.\n";
    let lesson = lesson(body);
    assert_eq!(lesson.text, "Sweeps\nFew and wide, short-90.\na b\nc d\none\ntwo\nSo it is.\n");
}

#[test]
fn html_of_the_firm_is_let_through() {
    assert!(sound("Press <kbd>here</kbd>.\n\n<div>\nx\n</div>\n").contains("<kbd>here</kbd>"));
}

#[test]
fn problems_stand_in_the_order_of_their_places() {
    let problems = lesson("[down](#gone)\n\n$\\zzz$\n\n[x](clause:y) [^q]\n").faults;
    assert_eq!(problems.iter().map(|p| p.line).collect::<Vec<_>>(), [1, 3, 5, 5]);
}

proptest::proptest! {
    /// Whatever is written, there is a page, and every problem points into the text.
    #[test]
    fn never_panics(body in r"([a-z \n]|\[\^a\]|\[x\]\(clause:q\)|\$|\\frac|[|>#*`~-]|```questions\n|```raceway\n|\[\^a\]: |!\[|\]|- ask: |> \[!NOTE\]\n|<b>){0,24}") {
        let lesson = lesson(&body);
        for problem in lesson.faults {
            proptest::prop_assert!(problem.line >= 1 && problem.line <= body.lines().count() + 1);
            proptest::prop_assert!(problem.column >= 1 && problem.line >= 1);
        }
    }
}

const EXAMPLE: &str = "title: A tube\nsteps:\n  - say: The *path*.\n    sum: path()\n    is: 12 m\n    as: path\n  - say: Half of it.\n    sum: path / 2\n    is: 6000 mm\n";

#[test]
fn a_worked_example_shows_its_sums_and_figures() {
    let html = sound(&format!("```worked\n{EXAMPLE}```\n"));
    for piece in [
        "<strong>Worked example.</strong> A tube",
        "<li><p>The <em>path</em>.</p>\n<p class=\"worked-sum\"><strong>12 m</strong>, by the program</p></li>",
        "<p class=\"worked-sum\">12 m ÷ 2 = <strong>6000 mm</strong></p>",
    ] {
        assert!(html.contains(piece), "{html}");
    }
}

#[test]
fn a_wrong_figure_is_refused_where_it_stands() {
    let wrong =
        |from: &str, to: &str| only_problem(&format!("```worked\n{}```\n", EXAMPLE.replace(from, to)));
    let (problem, marked) = wrong("6000 mm", "6002 mm");
    assert_eq!((problem.line, marked.as_str()), (10, "6002 mm"));
    assert_eq!(problem.message, "the sum comes to 6000 mm, not 6002 mm");
    let (problem, marked) = wrong("6000 mm", "6 lb");
    assert_eq!(
        (problem.message.as_str(), marked.as_str()),
        ("the sum comes to a length, and `6 lb` is a force", "6 lb")
    );
    let (problem, marked) = wrong("path / 2", "pth() / 2");
    assert_eq!((marked.as_str(), problem.help.as_deref()), ("pth", Some("write `path`")));
    let (problem, _) = wrong("    is: 6000 mm\n", "");
    assert_eq!(problem.message, "a step has no `is`");
}

#[test]
fn a_note_with_a_formula_or_code_is_set_whole() {
    let html = sound("Text[^a].\n\n[^a]: By $R$, and `code`.\n");
    assert!(html.contains("<mi>R</mi>") && html.contains("and <code>code</code>.</p>"), "{html}");
    assert!(!html.contains(|c| ('\u{e000}'..='\u{f8ff}').contains(&c)), "{html}");
}
