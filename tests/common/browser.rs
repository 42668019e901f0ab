//! A headless browser for one test, driven over WebDriver and ended with it.
use fantoccini::wd::{Capabilities, TimeoutConfiguration, WebDriverCompatibleCommand};
use fantoccini::{Client, ClientBuilder};
use hyper_util::client::legacy::connect::HttpConnector;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// How long the driver may take to say on which port it listens.
const START: Duration = Duration::from_secs(30);

/// A browser with a profile of its own, on a port of its own.
pub struct Browser {
    pub client: Client,
    // Dropped in this order: the driver ends its browser, then the profile goes.
    _driver: Driver,
    _profile: TempDir,
}

impl Browser {
    pub async fn start() -> Browser {
        let profile = tempfile::tempdir().expect("a folder for the profile");
        let driver = Driver::start();
        let client = ClientBuilder::new(HttpConnector::new())
            .capabilities(capabilities(profile.path()))
            .connect(&format!("http://127.0.0.1:{}", driver.port))
            .await
            .expect("the browser starts; `bash tests/all` installs it");
        // The course on one page is long, and a machine may be busy.
        let patient = TimeoutConfiguration::new(Some(Duration::from_secs(240)), None, None);
        client.update_timeouts(patient).await.expect("the browser waits longer");
        Browser { client, _driver: driver, _profile: profile }
    }

    /// Opens a file at a window size, as a phone would when the window is narrow.
    pub async fn open(&self, file: &Path, (width, height): (u32, u32)) {
        let size = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500});
        self.devtools("Emulation.setDeviceMetricsOverride", size).await;
        let address = url::Url::from_file_path(file).expect("a whole path");
        self.client.goto(address.as_str()).await.unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    }

    /// Runs a script in the page and returns what it returns.
    pub async fn ask(&self, script: &str) -> Value {
        self.client.execute(script, vec![]).await.expect("the script runs")
    }

    /// A command of the browser's own protocol.
    pub async fn devtools(&self, command: &str, params: Value) -> Value {
        let body = json!({"cmd": command, "params": params});
        let path = "goog/cdp/execute";
        self.client.issue_cmd(Extra { path, body }).await.unwrap_or_else(|e| panic!("{command}: {e}"))
    }

    /// What went wrong on the console since the last call.
    pub async fn console_errors(&self) -> Vec<String> {
        let body = json!({"type": "browser"});
        let log = self.client.issue_cmd(Extra { path: "se/log", body }).await.expect("the console's log");
        let entries = log.as_array().into_iter().flatten();
        entries
            .filter(|entry| entry["level"] == "SEVERE")
            .map(|entry| entry["message"].as_str().unwrap_or_default().to_string())
            .collect()
    }

    /// What axe finds wrong with the open page, and how often.
    pub async fn violations(&self) -> Vec<String> {
        let axe = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/node_modules/axe-core/axe.min.js");
        let axe = std::fs::read_to_string(axe).expect("axe-core, which `bash tests/all` installs");
        self.ask(&axe).await;
        let run = "const done = arguments[arguments.length - 1];
            axe.run(document, {resultTypes: ['violations']}).then(r => done(r.violations), e => done(String(e)));";
        let found = self.client.execute_async(run, vec![]).await.expect("axe runs");
        let found = found.as_array().unwrap_or_else(|| panic!("{found}"));
        found
            .iter()
            .map(|one| {
                let nodes = one["nodes"].as_array().map_or(0, Vec::len);
                let first = &one["nodes"][0];
                format!(
                    "{} ({}, {nodes} places): {} {}",
                    one["help"], one["id"], first["html"], first["any"][0]["message"]
                )
            })
            .collect()
    }

    /// Ends the session, and with it the browser.
    pub async fn close(self) {
        self.client.clone().close().await.expect("the browser ends");
    }
}

fn capabilities(profile: &Path) -> Capabilities {
    let flags = [
        "--headless=new",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--disable-dev-shm-usage",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
        // No page asks for anything beyond its own folder; what did would fail here.
        "--host-resolver-rules=MAP * ~NOTFOUND",
    ];
    let mut flags: Vec<String> = flags.map(String::from).into();
    flags.push(format!("--user-data-dir={}", profile.display()));
    let wanted = json!({
        "browserName": "chrome",
        "goog:chromeOptions": {"args": flags},
        "goog:loggingPrefs": {"browser": "ALL"},
    });
    wanted.as_object().cloned().expect("an object")
}

/// A WebDriver command that is particular to this browser.
#[derive(Debug)]
struct Extra {
    path: &'static str,
    body: Value,
}

impl WebDriverCompatibleCommand for Extra {
    fn endpoint(&self, base: &url::Url, session: Option<&str>) -> Result<url::Url, url::ParseError> {
        base.join(&format!("session/{}/{}", session.unwrap_or_default(), self.path))
    }

    fn method_and_body(&self, _: &url::Url) -> (http::Method, Option<String>) {
        (http::Method::POST, Some(self.body.to_string()))
    }
}

/// The driver's process; ended when dropped, in a failed test too.
struct Driver {
    child: Child,
    port: u16,
}

impl Driver {
    fn start() -> Driver {
        let mut child = Command::new("chromedriver")
            .arg("--port=0")
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver starts; `bash tests/all` installs it");
        let out = child.stdout.take().expect("its standard output");
        let (tell, hear) = std::sync::mpsc::channel();
        // The thread reads on to the end, so that the driver never waits for a reader.
        std::thread::spawn(move || {
            for line in BufReader::new(out).lines().map_while(Result::ok) {
                let port = line.split("successfully on port ").nth(1);
                if let Some(port) = port.and_then(|rest| rest.trim_end_matches('.').trim().parse().ok()) {
                    let _ = tell.send(port);
                }
            }
        });
        let mut driver = Driver { child, port: 0 };
        driver.port = hear.recv_timeout(START).expect("the driver tells its port");
        driver
    }
}

impl Drop for Driver {
    fn drop(&mut self) {
        // Asked to end, the driver ends its browser first; killed, it would leave it behind.
        let asked = Command::new("kill").arg(self.child.id().to_string()).status();
        let until = Instant::now() + Duration::from_secs(10);
        while asked.is_ok() && Instant::now() < until {
            if matches!(self.child.try_wait(), Ok(Some(_))) {
                return;
            }
            std::thread::sleep(Duration::from_millis(50));
        }
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
