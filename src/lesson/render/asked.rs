//! Questions and cards: what they put on the page, and what is said when they are wrong.

use super::tests::{lesson, only_problem, sound};

const CHOICE: &str = "```questions\n- ask: How long is $a$?\n  right: Two *feet*\n  wrong: [One]\n  because: See [it](clause:bend-total)\n```\n";

fn answers(body: &str) -> String {
    let lesson = lesson(body);
    assert_eq!(lesson.faults, [], "{}", lesson.html);
    lesson.answers.concat()
}

#[test]
fn a_choice_is_a_group_of_fields_and_its_answer_stands_apart() {
    let html = sound(CHOICE);
    assert!(
        html.contains("<legend class=\"ask-what\">How long is <span class=\"within-line\"><math"),
        "{html}"
    );
    assert_eq!(html.matches("type=\"radio\" name=\"ask.1\"").count(), 2, "{html}");
    assert!(!html.contains("See <a"), "the reason stands among the options: {html}");
    let answers = answers(CHOICE);
    assert!(answers.contains(": Two <em>feet</em></strong>"), "{answers}");
    assert!(answers.contains("<p>See <a href=\"../clause/bend-total.html\">it</a></p>"), "{answers}");
}

#[test]
fn questions_are_numbered_through_a_lesson() {
    let lesson = lesson(&format!("{CHOICE}\nMore.\n\n{CHOICE}"));
    assert!(lesson.html.contains("start=\"2\"") && lesson.html.contains("id=\"ask.2\""), "{}", lesson.html);
    assert!(lesson.answers[1].contains("id=\"answer.2\" value=\"2\""), "{}", lesson.answers[1]);
}

#[test]
fn several_right_options_are_ticked() {
    let body = CHOICE.replace("right: Two *feet*", "right: [Two *feet*, Three]");
    assert_eq!(sound(&body).matches("type=\"checkbox\"").count(), 3);
    let answers = answers(&body);
    let key = answers.split("data-key=\"").nth(1).unwrap().split('"').next().unwrap();
    assert_eq!(key.split(' ').count(), 2, "{answers}");
}

const STEPS: &str =
    "```questions\n- ask: In order?\n  order: [Cut, Deburr, Dry-fit, Cement]\n  because: So.\n```\n";

#[test]
fn steps_are_mixed_and_the_answer_has_them_in_order() {
    let (html, answers) = (sound(STEPS), answers(STEPS));
    let mixed: Vec<&str> = html.split("data-step=\"").skip(1).map(|s| &s[..1]).collect();
    assert_eq!(mixed, ["A", "B", "C", "D"]);
    let key = answers.split("data-key=\"").nth(1).unwrap().split('"').next().unwrap();
    assert_ne!(key, "A B C D");
    assert!(answers.contains("Cut → Deburr → Dry-fit → Cement"), "{answers}");
}

const NUMBER: &str =
    "```questions\n- ask: How long?\n  number: {sum: path() / 2, within: 6 mm}\n  because: So.\n```\n";

#[test]
fn a_number_is_worked_out_by_the_hand() {
    let (html, answers) = (sound(NUMBER), answers(NUMBER));
    assert!(html.contains("data-lengths=\"mm\""), "{html}");
    assert!(
        answers.contains("data-key=\"6000 6\"") && answers.contains("6000 mm, 6 mm either way"),
        "{answers}"
    );
}

#[test]
fn a_typed_number_tells_its_source() {
    let body = NUMBER.replace(
        "number: {sum: path() / 2, within: 6 mm}",
        "number: {value: 49 cfm, within: 2 cfm, source: The unit's plate}",
    );
    assert!(answers(&body).contains("49 cfm, 2 cfm either way <span class=\"fine\">(The unit's plate)"));
}

const JUDGE: &str = "```questions\n- ask: Tap it.\n  raceway:\n    leaves: up\n    path: [{run: 6 ft}]\n  judge: {breaks: [fitting-room]}\n  because: So.\n```\n";

#[test]
fn a_drawing_to_judge_lists_its_parts_and_nothing_wrong() {
    let (html, answers) = (sound(JUDGE), answers(JUDGE));
    assert!(html.contains("value=\"AB1\"") && html.contains("value=\"nothing\""), "{html}");
    assert!(!html.contains("they collide"), "{html}");
    assert!(answers.contains("data-key=\"AB1 leg-2\"") && answers.contains("they collide"), "{answers}");
}

/// What is told of each form when it is wrong, and where.
#[test]
fn faults_in_questions_are_told_with_their_places() {
    let cases = [
        (CHOICE, "right: Two *feet*", "right: []", (3, 10), "no option is right"),
        (CHOICE, "wrong: [One]", "wrong: []", (4, 10), "no option is wrong"),
        (CHOICE, "wrong: [One]", "wrong: [Two *feet*]", (4, 10), "`Two *feet*` stands twice"),
        (CHOICE, "  right: Two *feet*\n", "", (2, 3), "this question has no answer"),
        (CHOICE, "  wrong: [One]\n", "", (2, 3), "a question has no `wrong`"),
        (CHOICE, "because", "becuase", (5, 3), "`becuase` is not a key of a question"),
        (CHOICE, "clause:bend-total", "clause:bend-totl", (5, 12), "there is no clause `bend-totl`"),
        (CHOICE, "wrong: [One]", "wrong: [One]\n  order: [a, b, c]", (2, 3), "has both `right` and `order`"),
        (STEPS, "[Cut, Deburr, Dry-fit, Cement]", "[Cut, Deburr]", (3, 10), "2 steps are too few"),
        (NUMBER, "path() / 2", "pth() / 2", (3, 17), "there is no `pth`"),
        (NUMBER, "sum: path() / 2", "value: 4 ft", (3, 11), "this number is typed and rests on nothing"),
        (NUMBER, "6 mm", "1 degree", (3, 37), "the tolerance `1 degree` is in another unit"),
        (JUDGE, "[fitting-room]", "[]", (6, 19), "no clause is broken"),
        (JUDGE, "[fitting-room]", "[one-level]", (6, 19), "this raceway does not break it"),
    ];
    for (whole, from, to, place, message) in cases {
        let body = whole.replace(from, to);
        let (problem, _) = only_problem(&body);
        assert!(problem.message.contains(message), "{body}{}", problem.message);
        assert_eq!((problem.line, problem.column), place, "{body}{}", problem.message);
    }
    assert_eq!(only_problem("```questions\n\n```\n").0.message, "the block asks nothing");
    assert_eq!(only_problem("```questions\n[]\n```\n").0.message, "the block asks nothing");
}

const CARD: &str = "```sign-off\ntitle: One raceway\ntime: 90 min\nbring: [Saw]\ndo: Cut it.\nseen: [Every cut is square.]\nmeasured:\n  - {what: Hose path, sum: path(), within: 12 mm}\n```\n";

#[test]
fn a_card_has_lines_to_tick_and_to_sign() {
    let lesson = lesson(CARD);
    assert_eq!((lesson.faults.len(), lesson.cards.as_slice()), (0, &["One raceway".to_owned()][..]));
    for wanted in ["Every cut is square.", "<td>12000 mm, 12 mm either way</td>", "Crew lead"] {
        assert!(lesson.html.contains(wanted), "{wanted}: {}", lesson.html);
    }
    assert!(
        only_problem(&CARD.replace("seen: [Every cut is square.]\n", "")).0.message.contains("no `seen`")
    );
}

/// Text of YAML is text: what looks like markup in it is shown, in each place where words may stand.
#[test]
fn markup_in_yaml_is_shown_as_written() {
    let bad = "<script>alert(1)</script>";
    let bodies = [
        CHOICE.replace("How long is $a$?", bad),
        CHOICE.replace("Two *feet*", bad),
        CHOICE.replace("[One]", &format!("[{bad}]")),
        CHOICE.replace("See [it](clause:bend-total)", &format!("x {bad}")),
        STEPS.replace("Deburr", bad),
        NUMBER.replace(
            "number: {sum: path() / 2, within: 6 mm}",
            &format!("number: {{value: 4 ft, within: 0, source: {bad}}}"),
        ),
        CARD.replace("One raceway", bad),
        CARD.replace("90 min", bad),
        CARD.replace("Saw", bad),
        CARD.replace("Cut it.", bad),
        CARD.replace("Every cut is square.", bad),
        CARD.replace("Hose path", bad),
    ];
    for body in bodies {
        let lesson = lesson(&body);
        let html = lesson.html + &lesson.answers.concat();
        assert!(!html.contains("<script"), "{body}{html}");
        assert!(html.contains("&lt;script&gt;"), "{body}{html}");
        assert_eq!(lesson.faults, [], "{body}");
    }
}
