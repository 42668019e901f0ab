//! The program watching a company's folder.
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// How long anything may take before it counts as not happening; no check of speed.
pub const PATIENCE: Duration = Duration::from_secs(120);

/// The program watching; ended when dropped, in a failed check too.
pub struct Watching(pub Child);

impl Watching {
    /// Starts it and waits until it says that it watches.
    pub fn start(company: &Path) -> Watching {
        // Whoever runs the checks may have told their children to heed no signal.
        let mut child = Command::new("env")
            .arg("--default-signal=INT,TERM,HUP")
            .arg(env!("CARGO_BIN_EXE_longsweep"))
            .args(["watch", "-C"])
            .arg(company)
            .stderr(Stdio::piped())
            .spawn()
            .expect("the program runs");
        let said = BufReader::new(child.stderr.take().expect("its words"));
        let mut lines = said.lines().map_while(Result::ok);
        let watching = lines.any(|line| line.contains("open file://"));
        // Its words go on being read, so that it never waits for a full pipe.
        std::thread::spawn(move || lines.for_each(drop));
        let watching_child = Watching(child);
        assert!(watching, "it ended without a word of watching");
        watching_child
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

/// Waits for something that must come.
pub fn until(what: &str, mut holds: impl FnMut() -> bool) {
    let started = Instant::now();
    while !holds() {
        assert!(started.elapsed() < PATIENCE, "waited in vain for {what}");
        std::thread::sleep(Duration::from_millis(50));
    }
}
