//! A headless Chromium of one test, told what to do over its own pipe (the `DevTools` protocol, JSON ended by NUL).

use super::examples::{Page, folder};
use serde_json::{Value, json};
use std::collections::VecDeque;
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

/// Always the same, so that a run neither asks the network nor remembers another one.
const FLAGS: &str = "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking \
     --disable-component-update --disable-sync --hide-scrollbars --remote-debugging-pipe";

/// How a page is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct View {
    /// Width of the window in px.
    pub(crate) width: u32,
    /// Height of the window in px.
    pub(crate) height: u32,
    /// Colours and medium.
    pub(crate) scheme: Scheme,
}

/// The three looks of a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Scheme {
    Light,
    Dark,
    Print,
}

/// A running browser with one open page.
pub(crate) struct Browser {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    events: VecDeque<Value>,
    session: Option<String>,
    number: u64,
    profile: PathBuf,
}

impl Browser {
    /// Starts one. The shell lays the two ends of the pipe on 3 and 4, where the browser looks for them.
    pub(crate) fn start() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let profile = folder(&format!("profile-{}", COUNT.fetch_add(1, Ordering::Relaxed)));
        let program = std::env::var("CHROMIUM").unwrap_or_else(|_| "chromium".to_owned());
        let script = format!("exec \"$0\" {FLAGS} --user-data-dir=\"$1\" about:blank 3<&0 4>&1 1>&2");
        let log = fs::File::create(profile.join("log.txt")).unwrap();
        let mut child = Command::new("sh")
            .args(["-c", &script, &program])
            .arg(&profile)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(log)
            .spawn()
            .expect("a shell starts the browser");
        let input = child.stdin.take().unwrap();
        let output = BufReader::new(child.stdout.take().unwrap());
        let mut browser =
            Self { child, input, output, events: VecDeque::new(), session: None, number: 0, profile };
        let targets = browser.ask("Target.getTargets", &json!({}));
        let page = targets["targetInfos"].as_array().unwrap().iter().find(|target| target["type"] == "page");
        let target = page.expect("the browser opens a page")["targetId"].clone();
        let attached = browser.ask("Target.attachToTarget", &json!({"targetId": target, "flatten": true}));
        browser.session = Some(attached["sessionId"].as_str().unwrap().to_owned());
        for domain in ["Page.enable", "Runtime.enable", "Network.enable"] {
            browser.ask(domain, &json!({}));
        }
        browser
    }

    /// One command and its answer; events that come before are kept.
    pub(crate) fn ask(&mut self, method: &str, parameters: &Value) -> Value {
        self.number += 1;
        let mut command = json!({"id": self.number, "method": method, "params": parameters});
        if let Some(session) = &self.session {
            command["sessionId"] = json!(session);
        }
        let mut bytes = serde_json::to_vec(&command).unwrap();
        bytes.push(0);
        self.input.write_all(&bytes).unwrap_or_else(|fault| panic!("{fault}: {}", self.log()));
        self.input.flush().unwrap();
        loop {
            let mut message = self.message();
            if message["id"] != json!(self.number) {
                self.events.push_back(message);
                continue;
            }
            assert!(message.get("error").is_none(), "{method}: {}", message["error"]);
            return message["result"].take();
        }
    }

    fn message(&mut self) -> Value {
        let mut bytes = Vec::new();
        self.output.read_until(0, &mut bytes).unwrap();
        assert!(bytes.pop() == Some(0), "the browser is gone; is Chromium installed?\n{}", self.log());
        serde_json::from_slice(&bytes).unwrap()
    }

    fn log(&self) -> String {
        fs::read_to_string(self.profile.join("log.txt")).unwrap_or_default()
    }

    /// Sets size and look, opens the page, and waits until it has loaded.
    pub(crate) fn open(&mut self, page: &Page, view: View) {
        let View { width, height, scheme } = view;
        let size = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false});
        self.ask("Emulation.setDeviceMetricsOverride", &size);
        let dark = if scheme == Scheme::Dark { "dark" } else { "light" };
        let medium = if scheme == Scheme::Print { "print" } else { "" };
        let features = json!([{"name": "prefers-color-scheme", "value": dark}]);
        self.ask("Emulation.setEmulatedMedia", &json!({"media": medium, "features": features}));
        self.events.clear();
        self.ask("Page.navigate", &json!({"url": address(&page.path)}));
        while !self.events.iter().any(|event| event["method"] == "Page.loadEventFired") {
            let message = self.message();
            self.events.push_back(message);
        }
        let shown = self.run("() => [innerWidth, innerHeight]");
        assert_eq!(
            shown,
            json!([width, height]),
            "{}: the window has the size that was asked for",
            page.name
        );
    }

    /// The result of a script's function on the open page. It is run from outside, so the page's own rules
    /// on scripts stay in force.
    pub(crate) fn run(&mut self, function: &str) -> Value {
        let expression = format!("({function})()");
        let parameters = json!({"expression": expression, "returnByValue": true, "awaitPromise": true});
        let mut answer = self.ask("Runtime.evaluate", &parameters);
        assert!(answer.get("exceptionDetails").is_none(), "{}", answer["exceptionDetails"]);
        answer["result"]["value"].take()
    }

    /// The same where the script gives a list of texts: what is wrong, a line each.
    pub(crate) fn faults(&mut self, page: &Page, view: View, function: &str) -> Vec<String> {
        let found = self.run(function);
        let found = found.as_array().unwrap_or_else(|| panic!("{}: no list: {found}", page.name));
        let place = format!("{} at {} px, {:?}", page.name, view.width, view.scheme);
        found.iter().map(|text| format!("{place}: {}", text.as_str().unwrap())).collect()
    }

    /// Addresses that the open page asked for, itself included.
    pub(crate) fn requests(&self) -> Vec<String> {
        let sent = self.events.iter().filter(|event| event["method"] == "Network.requestWillBeSent");
        sent.map(|event| event["params"]["request"]["url"].as_str().unwrap().to_owned()).collect()
    }

    /// Whether scripts of the page are run.
    pub(crate) fn scripts(&mut self, on: bool) {
        self.ask("Emulation.setScriptExecutionDisabled", &json!({"value": !on}));
    }

    /// Prints the open page on paper of a size in mm, into a file.
    pub(crate) fn print(&mut self, paper: (f64, f64), file: &Path) {
        let parameters = json!({"paperWidth": paper.0 / 25.4, "paperHeight": paper.1 / 25.4});
        let answer = self.ask("Page.printToPDF", &parameters);
        fs::write(file, base64(answer["data"].as_str().unwrap())).unwrap();
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        // A browser that is gone already cannot be ended; the test has failed by then, and says so itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = fs::remove_dir_all(&self.profile);
    }
}

/// The address of a file.
pub(crate) fn address(path: &Path) -> String {
    format!("file://{}", path.display()).replace(' ', "%20")
}

/// Bytes from base 64 (RFC 4648, section 4).
fn base64(text: &str) -> Vec<u8> {
    let value = |c: u8| match c {
        b'A'..=b'Z' => c - b'A',
        b'a'..=b'z' => c - b'a' + 26,
        b'0'..=b'9' => c - b'0' + 52,
        b'+' => 62,
        _ => 63,
    };
    let mut bytes = Vec::with_capacity(text.len() / 4 * 3);
    for four in text.trim_end_matches('=').as_bytes().chunks(4) {
        let bits = four.iter().fold(0_u32, |bits, &c| bits << 6 | u32::from(value(c)));
        let bits = bits << (6 * (4 - four.len()));
        bytes.extend(&bits.to_be_bytes()[1..four.len()]);
    }
    bytes
}

#[test]
fn base64_gives_the_bytes_of_the_standard() {
    for (text, bytes) in [("", ""), ("Zg==", "f"), ("Zm8=", "fo"), ("Zm9v", "foo"), ("Zm9vYmFy", "foobar")] {
        assert_eq!(base64(text), bytes.as_bytes(), "RFC 4648, section 10");
    }
}
