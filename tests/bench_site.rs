//! Sets of many jobs: how long they take and what memory, as ratios in one run. Run it with
//! `cargo test --release --test bench_site -- --ignored --nocapture --test-threads 1`; `LONGSWEEP_JOBS`
//! gives another number of jobs than 1,000.
mod common;

use common::many::fill;
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// What a run of the program took.
#[derive(Debug, Clone, Copy)]
struct Took {
    wall_s: f64,
    cpu_s: f64,
    peak_mb: f64,
}

/// Runs the program and looks at its process until it ends; Linux tells a process's time and memory there.
fn took(company: &Path, arguments: &[&str]) -> Took {
    let started = Instant::now();
    let mut child = Command::new(env!("CARGO_BIN_EXE_longsweep"))
        .args(arguments)
        .arg("-C")
        .arg(company)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program runs");
    let proc = Path::new("/proc").join(child.id().to_string());
    let (mut cpu_s, mut peak_mb) = (0.0, 0.0);
    // A process that has ended keeps its times until it is waited for.
    loop {
        cpu_s = fs::read_to_string(proc.join("stat")).ok().and_then(|stat| cpu(&stat)).unwrap_or(cpu_s);
        peak_mb =
            fs::read_to_string(proc.join("status")).ok().and_then(|status| peak(&status)).unwrap_or(peak_mb);
        let ended = fs::read_to_string(proc.join("stat")).map_or(true, |stat| stat.contains(") Z "));
        if ended {
            break;
        }
        std::thread::sleep(Duration::from_millis(2));
    }
    let wall_s = started.elapsed().as_secs_f64();
    let code = child.wait().expect("it ends").code();
    assert!(code.is_some_and(|code| code < 2), "{arguments:?} ended with {code:?}");
    Took { wall_s, cpu_s, peak_mb }
}

/// Time in user and system, of 1/100 s, the 14th and 15th word of `stat`.
fn cpu(stat: &str) -> Option<f64> {
    let words: Vec<&str> = stat.rsplit_once(") ")?.1.split(' ').collect();
    let ticks = |at: usize| words.get(at)?.parse::<f64>().ok();
    Some((ticks(11)? + ticks(12)?) / 100.0)
}

fn peak(status: &str) -> Option<f64> {
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    Some(line.split_whitespace().nth(1)?.parse::<f64>().ok()? / 1024.0)
}

fn jobs() -> usize {
    std::env::var("LONGSWEEP_JOBS").ok().and_then(|jobs| jobs.parse().ok()).unwrap_or(1000)
}

fn site_bytes(company: &Path) -> u64 {
    let files = walkdir::WalkDir::new(company.join("site")).into_iter().flatten();
    files.filter_map(|file| file.metadata().ok()).filter(|meta| meta.is_file()).map(|meta| meta.len()).sum()
}

#[test]
#[ignore = "a timing, not a check"]
fn a_set_of_many_jobs() {
    let company = common::demo_without_jobs();
    let root = company.path();
    let bare = took(root, &["publish"]);
    let base_bytes = site_bytes(root);
    let files = fill(root, jobs());
    let full = took(root, &["publish"]);
    let bytes = site_bytes(root);
    let again = took(root, &["publish"]);
    retitle(&files[files.len() / 2], "Edited");
    let edit = took(root, &["publish"]);
    let jobs = jobs() as f64;
    println!("{jobs} jobs (without a job: {bare:.2?})");
    println!("full            {:8.2} s CPU, {:.2} s, peak {:.0} MB", full.cpu_s, full.wall_s, full.peak_mb);
    println!("  a job         {:8.1} ms CPU", (full.cpu_s - bare.cpu_s) / jobs * 1000.0);
    println!(
        "nothing changed {:8.2} s CPU, {:.2} s, {:.2} % of full",
        again.cpu_s,
        again.wall_s,
        again.cpu_s / full.cpu_s * 100.0
    );
    println!("one edit, anew  {:8.2} s CPU, {:.2} s, peak {:.0} MB", edit.cpu_s, edit.wall_s, edit.peak_mb);
    println!("site            {:8.0} kB a job", (bytes - base_bytes) as f64 / jobs / 1000.0);
}

fn retitle(job: &Path, title: &str) {
    let text = fs::read_to_string(job).expect("a job");
    let line = text.lines().find(|line| line.starts_with("title: ")).expect("a title");
    fs::write(job, text.replacen(line, &format!("title: {title}"), 1)).expect("a save");
}

#[test]
#[ignore = "a timing, not a check"]
fn one_edit_under_watch_until_its_page_is_written() {
    let company = common::demo_without_jobs();
    let root = company.path();
    let files = fill(root, jobs());
    let mut child = Command::new(env!("CARGO_BIN_EXE_longsweep"))
        .args(["watch", "-C"])
        .arg(root)
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let mut said = BufReader::new(child.stderr.take().expect("its words")).lines().map_while(Result::ok);
    assert!(said.any(|line| line.contains("open file://")), "it watches");
    std::thread::spawn(move || said.for_each(drop));
    let mut times = Vec::new();
    for n in 0..7 {
        let job = &files[n * files.len() / 7];
        let key = job.strip_prefix(root.join("jobs")).expect("a job").with_extension("");
        let page = root.join("site/jobs").join(key).join("index.html");
        let stamp = root.join("site/.longsweep-watch.js");
        let before = fs::read(&stamp).unwrap_or_default();
        let words = format!("Edited {n} now");
        let started = Instant::now();
        retitle(job, &words);
        while !fs::read_to_string(&page).is_ok_and(|page| page.contains(&words)) {
            std::thread::sleep(Duration::from_millis(1));
        }
        let written = started.elapsed();
        while fs::read(&stamp).unwrap_or_default() == before {
            std::thread::sleep(Duration::from_millis(1));
        }
        times.push((written, started.elapsed()));
    }
    let _ = child.kill();
    let _ = child.wait();
    times.sort();
    println!("{} jobs, one edit until its page is written, and until open pages are told:", files.len());
    times
        .iter()
        .for_each(|(page, all)| println!("  {:.3} s   {:.3} s", page.as_secs_f64(), all.as_secs_f64()));
}

#[test]
#[ignore = "a timing, not a check"]
fn one_job_among_twenty_thousand() {
    let company = common::demo_without_jobs();
    let root = company.path();
    let few = fill(root, 8);
    let alone = took(root, &["inspect", "y00/job-00000"]);
    drop(few);
    fill(root, 20_000);
    for command in [["inspect", "y10/job-10001"], ["takeoff", "y10/job-10001"]] {
        let took = took(root, &command);
        println!("{command:?} among 20,000: {:.3} s ({:.3} s among 8)", took.wall_s, alone.wall_s);
    }
    let start = took(root, &["--version"]);
    println!("start-up: {:.1} ms", start.wall_s * 1000.0);
}
