//! The command line: words, exit codes, colours.
mod common;

use common::Run;
use std::fs;
use std::path::Path;

const COMMANDS: [&str; 4] = ["publish", "inspect", "draw", "begin"];

fn run(company: &Path, arguments: &[&str]) -> Run {
    common::run(company, arguments)
}

/// A job in which nothing is wrong but one bend total: five quarter turns.
fn failing_job(company: &Path) -> String {
    let parts = common::generate::Parts::of(company);
    let mut path = String::from("        - run: 10 ft\n");
    for way in ["east", "north", "west", "south", "east"] {
        path.push_str(&format!("        - turn: 90 {way}\n        - run: 10 ft\n"));
    }
    format!(
        "title: Five Corners\naddress: 1 Ring Road\ndate: 2026-03-01\nunit: {{model: {}}}\ninlets:\n  \
         - id: hall\n    name: Hall\n    valve: {}\n    hose: {}\n    raceway:\n      leaves: down\n      path:\n{path}",
        parts.a_unit(),
        parts.a_valve(),
        parts.a_hose()
    )
}

fn escapes(text: &str) -> bool {
    text.contains('\u{1b}')
}

#[test]
fn help_names_every_command_and_says_what_it_does() {
    let here = tempfile::tempdir().unwrap();
    let help = run(here.path(), &["--help"]);
    assert_eq!(help.code, 0);
    for command in COMMANDS {
        assert!(help.out.contains(command), "--help does not name {command}:\n{}", help.out);
        let own = run(here.path(), &[command, "--help"]);
        assert_eq!(own.code, 0, "{command} --help: {}", own.err);
        assert!(own.out.len() > 60, "{command} --help says next to nothing:\n{}", own.out);
    }
    assert!(run(here.path(), &["inspect", "--help"]).out.contains("--json"));
}

#[test]
fn version_is_that_of_the_crate() {
    let here = tempfile::tempdir().unwrap();
    let said = run(here.path(), &["--version"]);
    assert_eq!(said.code, 0);
    assert!(said.out.contains(env!("CARGO_PKG_VERSION")), "{}", said.out);
}

#[test]
fn publish_is_what_happens_without_a_command() {
    let company = common::demo();
    let run = run(company.path(), &[]);
    assert_eq!(run.code, 0, "{}", run.err);
    assert!(company.path().join("site/index.html").is_file());
}

#[test]
fn a_failed_clause_gives_1_and_is_told() {
    let company = common::demo_without_jobs();
    fs::write(company.path().join("jobs/five-corners.yaml"), failing_job(company.path())).unwrap();
    let run = run(company.path(), &["inspect", "five-corners"]);
    assert_eq!(run.code, 1, "{}\n{}", run.out, run.err);
    let told = run.out + &run.err;
    for word in ["450", "360"] {
        assert!(told.contains(word), "the finding lacks {word} degrees:\n{told}");
    }
}

#[test]
fn what_cannot_be_read_gives_2() {
    let company = common::demo_without_jobs();
    let job = failing_job(company.path()).replace("10 ft", "10");
    fs::write(company.path().join("jobs/bare-number.yaml"), job).unwrap();
    for arguments in [&["inspect"][..], &["inspect", "bare-number"], &["publish"]] {
        let run = run(company.path(), arguments);
        assert_eq!(run.code, 2, "{arguments:?}: {}\n{}", run.out, run.err);
        assert!(run.err.contains("bare-number.yaml"), "{}", run.err);
        assert!(!run.err.contains("panicked"), "{}", run.err);
    }
}

#[test]
fn a_wrong_command_line_gives_2() {
    let company = common::demo();
    for arguments in [&["inspekt"][..], &["inspect", "--jsn"], &["draw"], &["begin"]] {
        let run = run(company.path(), arguments);
        assert_eq!(run.code, 2, "{arguments:?}");
        assert!(!run.err.is_empty() && run.out.is_empty(), "{arguments:?} speaks on the wrong stream");
    }
}

#[test]
fn a_folder_that_is_no_company_is_told_so() {
    let empty = tempfile::tempdir().unwrap();
    let run = run(empty.path(), &["publish"]);
    assert_eq!(run.code, 2, "{}", run.err);
    assert!(run.err.contains("content/company.yaml") || run.err.contains("company folder"), "{}", run.err);
    assert!(!empty.path().join("site").exists(), "something was written all the same");
}

#[test]
fn an_unknown_job_is_answered_with_the_nearest() {
    let company = common::demo();
    let jobs = common::inspect(company.path(), &[]);
    let known = common::text(&jobs[0], "/job");
    let mut wrong = known.to_string();
    wrong.pop();
    for command in ["inspect", "draw"] {
        let run = run(company.path(), &[command, &wrong]);
        assert_eq!(run.code, 2, "{command} {wrong}: {}", run.out);
        assert!(run.err.contains(known), "{command} {wrong} does not offer {known}:\n{}", run.err);
    }
}

#[test]
fn inspect_of_named_jobs_prints_just_those() {
    let company = common::demo();
    for job in common::inspect(company.path(), &[]) {
        let key = common::text(&job, "/job");
        assert_eq!(common::inspect(company.path(), &[key]), std::slice::from_ref(&job), "{key}");
    }
}

#[test]
fn json_stands_alone_on_standard_output() {
    let company = common::demo();
    let run = run(company.path(), &["inspect", "--json"]);
    assert!(run.out.starts_with(['[', '{']), "{}", &run.out[..run.out.len().min(80)]);
    assert!(!escapes(&run.out));
}

#[test]
fn draw_gives_one_drawing_or_a_folder_of_them() {
    let company = common::demo();
    let jobs = common::inspect(company.path(), &[]);
    let key = common::text(&jobs[0], "/job");
    let inlet = common::text(&jobs[0], "/inlets/0/id");
    let one = run(company.path(), &["draw", key, "--line", inlet, "--view", "elevation"]);
    assert_eq!(one.code, 0, "{}", one.err);
    assert!(one.out.contains("<svg") && one.out.contains("\"scale-bar\""), "{}", one.out);
    let many = run(company.path(), &["draw", key, "--into", "drawn"]);
    assert_eq!(many.code, 0, "{}", many.err);
    let drawn = common::site::files(&company.path().join("drawn"));
    for view in longsweep::draw::VIEWS {
        let name = match view.shown {
            longsweep::draw::Shown::Line(_) => format!("{inlet}-{}.svg", view.name),
            longsweep::draw::Shown::Job(_) => format!("{}.svg", view.name),
            // Floors are drawn only of a job with a plan, which this one has not.
            longsweep::draw::Shown::Floor(_) => continue,
        };
        assert!(drawn.contains_key(&name), "no {name} among {:?}", drawn.keys());
    }
}

#[test]
fn no_colour_when_piped_or_refused() {
    let company = common::demo();
    fs::write(company.path().join("jobs/wrong.yaml"), "title: 3\nrun: 4\n").unwrap();
    for arguments in [&["publish"][..], &["inspect"]] {
        let piped = run(company.path(), arguments);
        assert!(!escapes(&piped.out) && !escapes(&piped.err), "colours in a pipe: {arguments:?}");
        let output = common::longsweep(company.path()).args(arguments).env("NO_COLOR", "1").output().unwrap();
        let said = [output.stdout, output.stderr].concat();
        assert!(!escapes(&String::from_utf8_lossy(&said)), "colours despite NO_COLOR: {arguments:?}");
    }
}

#[test]
fn begin_makes_a_company_that_publishes() {
    let place = tempfile::tempdir().unwrap();
    let begun = run(place.path(), &["begin", "our-firm"]);
    assert_eq!(begun.code, 0, "{}", begun.err);
    let company = place.path().join("our-firm");
    common::publish(&company);
    assert!(company.join("site/index.html").is_file());
    let read = run(&company, &["inspect"]);
    assert_eq!(read.code, 0, "{}", read.err);
    assert!(read.err.contains("has no name yet") && read.err.contains("company.yaml:2"), "{}", read.err);
    // Nothing in it is the demo's: one job, and no word of its firm.
    assert_eq!(fs::read_dir(company.join("jobs")).unwrap().count(), 1);
    assert!(company.join("README.md").is_file());
    let index = fs::read_to_string(company.join("site/index.html")).unwrap();
    assert!(index.contains("NAME OF YOUR COMPANY") && !index.contains("Saltmarsh"), "{index}");
    let firm = company.join("content/company.yaml");
    let named = fs::read_to_string(&firm).unwrap().replace("NAME OF YOUR COMPANY", "Our Firm");
    fs::write(&firm, named).unwrap();
    assert_eq!(run(&company, &["inspect"]).err, "");
}

#[test]
fn the_first_job_of_a_new_company_explains_every_key() {
    let text = fs::read_to_string(common::repository().join("src/cli/begin/first-job.yaml")).unwrap();
    for thing in longsweep::schema::FileKind::Job.things() {
        for key in thing.names() {
            let told = |line: &str| {
                let wanted = format!("{key}:");
                let mut at = line.match_indices(&wanted);
                at.any(|(at, _)| line[..at].chars().next_back().is_none_or(|c| " {".contains(c)))
            };
            // The words of a direction stand in its comment.
            let direction =
                thing.what == "a direction" && text.contains("east, west, north, south, up, down");
            assert!(direction || text.lines().any(told), "`{key}` of {} is not explained", thing.what);
        }
    }
}

#[test]
fn begin_refuses_a_folder_that_holds_something() {
    let place = tempfile::tempdir().unwrap();
    fs::write(place.path().join("diary.txt"), "mine").unwrap();
    let refused = run(place.path(), &["begin", "."]);
    assert_ne!(refused.code, 0, "{}", refused.out);
    let left: Vec<_> = fs::read_dir(place.path()).unwrap().collect();
    assert_eq!(left.len(), 1, "begin wrote into a folder that was not empty");
    assert_eq!(fs::read_to_string(place.path().join("diary.txt")).unwrap(), "mine");
}

#[test]
fn begin_takes_a_folder_that_is_there_but_empty() {
    let place = tempfile::tempdir().unwrap();
    fs::create_dir(place.path().join("new")).unwrap();
    assert_eq!(run(place.path(), &["begin", "new"]).code, 0);
}

#[test]
fn a_route_is_not_written_where_nothing_can_join_the_trunk() {
    let demo = common::demo();
    let file = demo.path().join("jobs/whimbrel-house.yaml");
    let text = fs::read_to_string(&file).expect("the demo's job");
    let trunk = "trunks:\n  - id: main\n    starts: {east: -10 ft, north: 2 ft, up: -2 ft}\n    leaves: down\n    path: [{run: 3 ft}]\n    into: unit\n\ninlets:\n";
    let joined = text.replacen("inlets:\n", trunk, 1).replacen(
        "      into: unit\n",
        "      into: {trunk: main, at: start}\n",
        1,
    );
    fs::write(&file, &joined).expect("a file");
    let run = run(demo.path(), &["propose", "whimbrel-house", "--write"]);
    assert_eq!(run.code, 2, "{}{}", run.out, run.err);
    assert!(run.err.contains("no leg of trunk main lies on the raceway's level"), "{}", run.err);
    assert_eq!(fs::read_to_string(&file).expect("the job"), joined);
}

#[test]
fn a_proposal_says_what_nobody_checked() {
    let demo = common::demo();
    let run = run(demo.path(), &["propose", "whimbrel-house"]);
    assert_eq!(run.code, 0, "{}", run.err);
    // The job gives no `bay:`, so that a clause of the standard had nothing to measure.
    let first = run.out.split("  1. ").nth(1).and_then(|rest| rest.split("  2. ").next()).expect("an offer");
    assert!(first.starts_with("pass: ") && first.contains("not checked: Width of the bay"), "{first}");
}

#[test]
fn one_drawing_that_cannot_be_made_is_named_and_the_rest_is_published() {
    let company = common::demo_without_jobs();
    let (good, long) = (failing_job(company.path()), failing_job(company.path()));
    let long = long.replacen("title: Five Corners", "title: Half a Mile", 1);
    // More sticks than a cutting plan can show on one sheet.
    let long = long.trim_end().rsplit_once("run: 10 ft").expect("a last run").0.to_owned() + "run: 2500 ft\n";
    fs::write(company.path().join("jobs/corners.yaml"), good).unwrap();
    fs::write(company.path().join("jobs/half-a-mile.yaml"), long).unwrap();
    let run = run(company.path(), &["publish"]);
    assert_ne!(run.code, 0, "{}{}", run.out, run.err);
    let told: Vec<&str> =
        run.err.lines().chain(run.out.lines()).filter(|l| l.contains("not drawn")).collect();
    assert_eq!(told.len(), 1, "{}{}", run.out, run.err);
    assert!(told[0].contains("jobs/half-a-mile.yaml: Cutting plan is not drawn: "), "{}", told[0]);
    for sheet in ["corners/index.html", "half-a-mile/index.html"] {
        assert!(company.path().join("site/jobs").join(sheet).is_file(), "{sheet} is missing");
    }
    // Where the drawing would stand, the page says so; the other drawings of the job are made.
    let office = fs::read_to_string(company.path().join("site/jobs/half-a-mile/office.html")).unwrap();
    assert!(office.contains("larger than any sheet"));
    let elevation =
        fs::read_to_string(company.path().join("site/jobs/half-a-mile/hall-elevation.svg")).unwrap();
    assert!(elevation.contains("<svg") && !elevation.contains("not drawn"));
}

/// Nothing that a person reads names the program's insides.
fn plain(run: &Run) -> bool {
    let told = format!("{}{}", run.out, run.err);
    !["panicked", "os error", "RUST_BACKTRACE", "Err("].iter().any(|word| told.contains(word))
}

#[test]
fn a_bend_as_wide_as_a_hill_ends_in_an_error_or_a_sheet_that_says_so() {
    let company = common::demo_without_jobs();
    fs::copy(common::repository().join("jobs/plover-cottage.yaml"), company.path().join("jobs/plover.yaml"))
        .unwrap();
    let file = company.path().join("content/catalog/tube-and-fittings.yaml");
    let good = fs::read_to_string(&file).unwrap();
    let sweep = "angle: 90, radius: 7 in, laying-length: 8 in";
    assert!(good.contains(sweep));
    // Such an arc does not end within 8 in of its corner.
    fs::write(&file, good.replace(sweep, "angle: 90, radius: 1000 ft, laying-length: 8 in")).unwrap();
    let told = run(company.path(), &["inspect"]);
    assert_eq!(told.code, 2, "{}", told.out);
    assert!(told.err.contains("is 1.00 of its radius or more") && plain(&told), "{}", told.err);
    assert!(told.err.contains("unread: plover") && !told.out.contains("PASS"), "{}", told.out);
    // One that does is told by the drawings that no sheet holds; the packet is there and fails.
    fs::write(&file, good.replace(sweep, "angle: 90, radius: 1000 ft, laying-length: 1001 ft")).unwrap();
    let told = run(company.path(), &["publish"]);
    assert_eq!(told.code, 2, "{}", told.err);
    assert!(
        told.err.contains("jobs/plover.yaml: Den, elevation is not drawn: the drawing would be"),
        "{}",
        told.err
    );
    let site = company.path().join("site/jobs/plover");
    let drawn = fs::read_to_string(site.join("den-elevation.svg")).unwrap();
    assert!(drawn.contains(">NOT DRAWN<"), "{drawn}");
    assert!(fs::read_to_string(site.join("packet.json")).unwrap().contains("\"may_be_built\": false"));
}

#[test]
fn a_folder_of_jobs_is_answered_with_its_jobs() {
    let company = common::demo();
    let jobs = common::inspect(company.path(), &[]);
    let inner = jobs.iter().map(|job| common::text(job, "/job")).find_map(|key| key.split_once('/'));
    let (folder, job) = inner.expect("a job of the demo in a folder");
    for name in [folder.to_owned(), format!("jobs/{folder}/"), "jobs".into(), ".".into()] {
        let run = run(company.path(), &["inspect", &name]);
        assert_eq!(run.code, 2, "{name}: {}", run.err);
        assert!(run.err.contains("is a folder; name a job of it: ") && run.err.contains(job), "{}", run.err);
    }
}

#[test]
fn a_view_misspelt_is_answered_with_the_nearest() {
    let company = common::demo_without_jobs();
    let run = run(company.path(), &["draw", "any", "--view", "elevatoin"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("'elevation'") && plain(&run), "{}", run.err);
}

#[test]
fn a_list_to_load_of_a_job_that_may_not_be_built_says_so() {
    let company = common::demo_without_jobs();
    let broken = failing_job(company.path());
    // Two turns, and room for the hose; what the tube goes into beyond the stop is not said, which is a hold.
    let held = broken.rsplitn(4, "        - turn").last().expect("a path").replace("10 ft", "16 ft");
    fs::write(company.path().join("jobs/broken.yaml"), &broken).unwrap();
    fs::write(company.path().join("jobs/held.yaml"), held).unwrap();
    for (job, why) in [("broken", "a must of the standard is broken"), ("held", "the job is on hold")] {
        let stands = run(company.path(), &["inspect", job]);
        assert!(job == "broken" || stands.out.contains(" — HOLD ("), "{}", stands.out);
        let list = run(company.path(), &["takeoff", job]);
        assert_eq!(list.code, 0, "{}", list.err);
        assert!(list.out.contains(&format!("Not to be built by yet: {why}")), "{}", list.out);
        // A spreadsheet takes the list alone.
        let csv = run(company.path(), &["takeoff", job, "--csv"]);
        assert!(csv.out.starts_with("part,") && !csv.out.contains("Not to be built"), "{}", csv.out);
        assert!(csv.err.contains(why), "{}", csv.err);
    }
}

#[test]
fn a_site_that_cannot_be_written_is_told_in_plain_words() {
    let company = common::demo_without_jobs();
    fs::write(company.path().join("site"), "a file").unwrap();
    let run = run(company.path(), &["publish"]);
    assert_eq!(run.code, 2);
    assert!(run.err.contains("a file stands where a folder should be") && plain(&run), "{}", run.err);
    assert_eq!(fs::read_to_string(company.path().join("site")).unwrap(), "a file");
}

#[cfg(unix)]
mod shell {
    use super::*;
    use std::process::{Command, Stdio};

    /// Runs a line of the shell in a company folder; `$LONGSWEEP` is the program.
    fn shell(company: &Path, line: &str) -> Run {
        let output = Command::new("bash")
            .args(["-c", line])
            .current_dir(company)
            .env("LONGSWEEP", env!("CARGO_BIN_EXE_longsweep"))
            .stdin(Stdio::null())
            .output()
            .expect("a shell");
        Run {
            code: output.status.code().expect("it ends by itself"),
            out: String::from_utf8(output.stdout).expect("UTF-8"),
            err: String::from_utf8(output.stderr).expect("UTF-8"),
        }
    }

    #[test]
    fn a_reader_that_has_enough_is_no_fault() {
        let company = common::demo_without_jobs();
        let job = failing_job(company.path());
        // More than a pipe holds.
        for n in 0..40 {
            fs::write(company.path().join(format!("jobs/j{n}.yaml")), &job).unwrap();
        }
        let told = shell(company.path(), "\"$LONGSWEEP\" inspect --json | head -1; exit ${PIPESTATUS[0]}");
        assert_eq!(told.err, "");
        assert_eq!((told.code, told.out.lines().count()), (1, 1), "as without `head`: a must is broken");
    }

    #[test]
    fn a_site_that_may_only_be_read_is_told() {
        use std::os::unix::fs::PermissionsExt;
        let company = common::demo_without_jobs();
        let site = company.path().join("site");
        fs::create_dir(&site).unwrap();
        fs::set_permissions(&site, fs::Permissions::from_mode(0o555)).unwrap();
        // To an administrator nothing is closed.
        let closed = fs::write(site.join("probe"), "").is_err();
        let run = run(company.path(), &["publish"]);
        fs::set_permissions(&site, fs::Permissions::from_mode(0o755)).unwrap();
        assert!(plain(&run), "{}", run.err);
        if closed {
            assert_eq!(run.code, 2);
            assert!(run.err.contains("you may not do that there"), "{}", run.err);
        }
    }

    #[test]
    fn a_disk_that_takes_no_more_is_told_and_the_next_publish_is_whole() {
        let company = common::demo_without_jobs();
        // No file past 20 kB, as of a disk that is full within each longer page.
        let told = shell(company.path(), "trap '' XFSZ; ulimit -f 20; exec \"$LONGSWEEP\" publish");
        assert_eq!(told.code, 2, "{}", told.err);
        assert!(told.err.contains("the disk takes no file as large") && plain(&told), "{}", told.err);
        common::publish(company.path());
        let other = common::demo_without_jobs();
        common::publish(other.path());
        let names = |at: &Path| common::site::files(&at.join("site")).into_keys().collect::<Vec<_>>();
        assert_eq!(names(company.path()), names(other.path()));
    }

    #[test]
    fn a_job_that_cannot_be_written_is_told_and_stays_as_it_was() {
        use std::os::unix::fs::PermissionsExt;
        let company = common::demo();
        let jobs = company.path().join("jobs");
        let file = jobs.join("whimbrel-house.yaml");
        let text = fs::read_to_string(&file).unwrap();
        let joists = "    joists: {run: north, spacing: 4 ft, first: 1 ft, size: 2x10, bore: yes}\n";
        let text = text.replacen("    hang-below: yes\n", joists, 1);
        fs::write(&file, &text).unwrap();
        for what in ["--inlet hall", "--crossings"] {
            let line = format!("propose whimbrel-house {what} --write");
            // No file past 1 kB, as of a disk that is full.
            let told =
                shell(company.path(), &format!("trap '' XFSZ; ulimit -f 1; exec \"$LONGSWEEP\" {line}"));
            assert_eq!(told.code, 2, "{}", told.err);
            let words =
                "whimbrel-house.yaml cannot be written: the disk takes no file as large; nothing was written";
            assert!(told.err.contains(words) && plain(&told), "{line}: {}", told.err);
            fs::set_permissions(&jobs, fs::Permissions::from_mode(0o555)).unwrap();
            // To an administrator nothing is closed.
            let closed = fs::write(jobs.join("probe"), "").is_err();
            let told = closed.then(|| run(company.path(), &line.split(' ').collect::<Vec<_>>()));
            fs::set_permissions(&jobs, fs::Permissions::from_mode(0o755)).unwrap();
            if let Some(told) = told {
                let words = "cannot be written: you may not do that there; nothing was written";
                assert!(told.code == 2 && told.err.contains(words) && plain(&told), "{line}: {}", told.err);
            }
            assert_eq!(fs::read_to_string(&file).unwrap(), text);
            assert!(
                fs::read_dir(&jobs).unwrap().all(|e| !e
                    .unwrap()
                    .file_name()
                    .to_string_lossy()
                    .starts_with(".tmp"))
            );
        }
    }

    #[cfg(target_os = "linux")]
    #[test]
    fn output_that_nothing_takes_is_told() {
        let company = common::demo_without_jobs();
        fs::write(company.path().join("jobs/corners.yaml"), failing_job(company.path())).unwrap();
        for line in ["inspect", "takeoff corners", "draw corners --line hall --view elevation", "schema job"]
        {
            let told = shell(company.path(), &format!("\"$LONGSWEEP\" {line} > /dev/full"));
            assert_eq!(told.code, 2, "{line}: {}", told.err);
            assert!(
                told.err.contains("could not be written: the disk is full") && plain(&told),
                "{}",
                told.err
            );
        }
    }
}

#[test]
fn a_narrow_terminal_takes_every_fault() {
    let company = common::demo_without_jobs();
    let job = failing_job(company.path());
    let spoilt = [
        job.replace("10 ft", "10"),
        job.replacen("title: ", "title: &", 1),
        job.replacen("Five Corners", &"x".repeat(9_000), 1),
        job.replace("    raceway:", "   raceway"),
        format!("{job}{}", "é".repeat(300)),
    ];
    for (n, text) in spoilt.iter().enumerate() {
        fs::write(company.path().join(format!("jobs/spoilt-{n}.yaml")), text).unwrap();
    }
    for columns in ["40", "1", "0", "-3", "wide", "99999"] {
        let output =
            common::longsweep(company.path()).arg("inspect").env("COLUMNS", columns).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{columns}");
        let told = String::from_utf8(output.stderr).expect("UTF-8");
        assert!(!told.contains("panicked") && !escapes(&told), "{columns}: {told}");
        for n in 0..spoilt.len() {
            assert!(told.contains(&format!("spoilt-{n}.yaml")), "{columns}: {told}");
        }
        if columns == "40" {
            let longest = told.lines().filter(|l| l.contains('│')).map(|l| l.chars().count()).max();
            assert!(longest.is_some_and(|longest| longest <= 48), "{longest:?}: {told}");
        }
    }
}
