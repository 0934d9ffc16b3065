//! A browser without a window, driven through its own debugging door (Chrome DevTools Protocol over a web socket).

use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::net::TcpStream;
use std::process::{Child, Command, Stdio};
use std::sync::{Mutex, MutexGuard};
use std::time::Duration;
use tempfile::TempDir;
use tungstenite::WebSocket;
use tungstenite::stream::MaybeTlsStream;

pub const PROGRAM: &str = "chromium";

/// One browser at a time: several on a small machine wait for each other longer than in a row.
static ONE: Mutex<()> = Mutex::new(());

/// How long a browser that says nothing is waited for.
const PATIENCE: Duration = Duration::from_secs(15);

/// Width and height of the window, and how it is held.
#[derive(Clone, Copy)]
pub enum Screen {
    /// 390 by 844, touched.
    Phone,
    /// 1280 by 800, with a mouse.
    Desk,
}

pub struct Browser {
    child: Child,
    socket: WebSocket<MaybeTlsStream<TcpStream>>,
    session: Option<String>,
    sent: u64,
    /// Everything that the browser told by itself: method and parameters.
    pub told: Vec<(String, Value)>,
    _profile: TempDir,
    _one: MutexGuard<'static, ()>,
}

impl Browser {
    /// One that draws no three dimensions.
    pub fn start() -> Browser {
        Browser::with(&["--disable-gpu"])
    }

    /// One that draws in three dimensions without a graphics card.
    pub fn with_webgl() -> Browser {
        Browser::with(&[
            "--use-gl=angle",
            "--use-angle=swiftshader",
            "--enable-unsafe-swiftshader",
        ])
    }

    fn with(graphics: &[&str]) -> Browser {
        let one = ONE.lock().unwrap_or_else(|broken| broken.into_inner());
        let profile = TempDir::new().unwrap();
        let mut child = Command::new(PROGRAM)
            .args(["--headless", "--no-sandbox", "--no-first-run"])
            .args(graphics)
            .args(["--remote-debugging-port=0", "--disable-component-update"])
            .arg(format!("--user-data-dir={}", profile.path().display()))
            .arg("about:blank")
            .stderr(Stdio::piped())
            .stdout(Stdio::null())
            .spawn()
            .unwrap_or_else(|why| panic!("{PROGRAM} is needed (see .ci/run): {why}"));
        let mut said = BufReader::new(child.stderr.take().unwrap()).lines();
        let address = said
            .find_map(|line| {
                Some(
                    line.ok()?
                        .strip_prefix("DevTools listening on ")?
                        .to_owned(),
                )
            })
            .expect("the browser names its door");
        // Whoever does not read on lets the browser wait.
        std::thread::spawn(move || said.for_each(drop));
        let (socket, _) = tungstenite::connect(address).unwrap();
        if let MaybeTlsStream::Plain(stream) = socket.get_ref() {
            stream.set_read_timeout(Some(PATIENCE)).unwrap();
        }
        let mut browser = Browser {
            child,
            socket,
            session: None,
            sent: 0,
            told: Vec::new(),
            _profile: profile,
            _one: one,
        };
        let target = browser.call("Target.createTarget", json!({"url": "about:blank"}));
        let attached = browser.call(
            "Target.attachToTarget",
            json!({"targetId": target["targetId"], "flatten": true}),
        );
        browser.session = Some(attached["sessionId"].as_str().unwrap().to_owned());
        for domain in ["Page", "Runtime", "Log", "Network"] {
            browser.call(&format!("{domain}.enable"), json!({}));
        }
        // As if somebody sat before it: a window in the background tells no page of its focus.
        browser.call(
            "Emulation.setFocusEmulationEnabled",
            json!({"enabled": true}),
        );
        browser
    }

    pub fn screen(&mut self, screen: Screen) {
        let (width, height, touched) = match screen {
            Screen::Phone => (390, 844, true),
            Screen::Desk => (1280, 800, false),
        };
        self.call(
            "Emulation.setDeviceMetricsOverride",
            json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": touched}),
        );
        self.call(
            "Emulation.setTouchEmulationEnabled",
            json!({"enabled": touched}),
        );
    }

    /// A window of this size.
    pub fn window(&mut self, width: u32, height: u32) {
        let size = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600});
        self.call("Emulation.setDeviceMetricsOverride", size);
    }

    /// Takes the network away, or gives it back.
    pub fn offline(&mut self, offline: bool) {
        let throughput = json!({"offline": offline, "latency": 0, "downloadThroughput": -1, "uploadThroughput": -1});
        self.call("Network.emulateNetworkConditions", throughput);
    }

    /// Asks until the answer is yes, for a minute.
    pub fn until(&mut self, expression: &str) {
        let asked = format!(
            "new Promise((answer) => {{ const end = Date.now() + 60000; const ask = () => ({expression}) ? answer(true) \
             : Date.now() > end ? answer(false) : setTimeout(ask, 50); ask(); }})"
        );
        assert_eq!(self.ask(&asked), true, "not within a minute: {expression}");
    }

    /// `light` or `dark`.
    pub fn scheme(&mut self, scheme: &str) {
        let feature = json!({"name": "prefers-color-scheme", "value": scheme});
        self.call("Emulation.setEmulatedMedia", json!({"features": [feature]}));
    }

    pub fn without_script(&mut self) {
        self.call(
            "Emulation.setScriptExecutionDisabled",
            json!({"value": true}),
        );
    }

    /// Opens a page and waits until it is there.
    pub fn open(&mut self, address: &str) {
        let before = self.told.len();
        self.call("Page.navigate", json!({"url": address}));
        self.loaded(before);
    }

    /// Does what leads to another page, and waits until that is there.
    pub fn follow(&mut self, expression: &str) {
        let before = self.told.len();
        self.ask(expression);
        self.loaded(before);
    }

    /// Waits until a page is there that was not when so much had been told.
    pub fn loaded(&mut self, before: usize) {
        while !self.told[before..]
            .iter()
            .any(|(name, _)| name == "Page.loadEventFired")
        {
            self.listen();
        }
    }

    /// What an expression is worth on the page.
    pub fn ask(&mut self, expression: &str) -> Value {
        let answer = self.call(
            "Runtime.evaluate",
            json!({"expression": expression, "returnByValue": true, "awaitPromise": true}),
        );
        assert!(
            answer.get("exceptionDetails").is_none(),
            "{expression}: {answer}"
        );
        answer["result"]["value"].clone()
    }

    /// The same of an expression that is a text.
    pub fn text(&mut self, expression: &str) -> String {
        self.ask(expression).as_str().unwrap().to_owned()
    }

    /// Stops the test if a script failed on a page.
    #[track_caller]
    pub fn is_sound(&self) {
        let thrown = self.told.iter();
        let thrown = thrown.filter(|(name, _)| name == "Runtime.exceptionThrown");
        assert_eq!(thrown.collect::<Vec<_>>(), Vec::<&(String, Value)>::new());
    }

    pub fn tap(&mut self, (x, y): (f64, f64)) {
        let points = json!([{"x": x, "y": y}]);
        let touch = |kind: &str, points: Value| json!({"type": kind, "touchPoints": points});
        self.call("Input.dispatchTouchEvent", touch("touchStart", points));
        self.call("Input.dispatchTouchEvent", touch("touchEnd", json!([])));
    }

    pub fn point_at(&mut self, (x, y): (f64, f64)) {
        self.call(
            "Input.dispatchMouseEvent",
            json!({"type": "mouseMoved", "x": x, "y": y}),
        );
    }

    /// Presses a key by its name, as `Tab` or `ArrowDown`.
    pub fn press(&mut self, key: &str) {
        let code = match key {
            "Tab" => 9,
            "Enter" => 13,
            "Escape" => 27,
            "End" => 35,
            "Home" => 36,
            "ArrowLeft" => 37,
            "ArrowUp" => 38,
            "ArrowRight" => 39,
            "ArrowDown" => 40,
            other => panic!("no key {other}"),
        };
        let text = if key == "Enter" { "\r" } else { "" };
        for kind in ["keyDown", "keyUp"] {
            let mut event =
                json!({"type": kind, "key": key, "code": key, "windowsVirtualKeyCode": code});
            if kind == "keyDown" && !text.is_empty() {
                event["text"] = text.into();
            }
            self.call("Input.dispatchKeyEvent", event);
        }
    }

    /// Says something through the door and waits for the answer.
    pub fn call(&mut self, method: &str, params: Value) -> Value {
        self.sent += 1;
        let mut message = json!({"id": self.sent, "method": method, "params": params});
        if let Some(session) = &self.session {
            message["sessionId"] = session.as_str().into();
        }
        self.socket.send(message.to_string().into()).unwrap();
        loop {
            if let Some((id, answer)) = self.listen()
                && id == self.sent
            {
                return answer;
            }
        }
    }

    /// The next thing that comes: an answer with its number, or something told.
    fn listen(&mut self) -> Option<(u64, Value)> {
        let heard = self.socket.read();
        let heard = heard.unwrap_or_else(|why| {
            panic!(
                "the browser fell silent: {why}; last it told {:?}",
                self.told.last()
            )
        });
        let text = heard.into_text().unwrap();
        let mut message: Value = serde_json::from_str(&text).ok()?;
        if let Some(id) = message["id"].as_u64() {
            assert!(message.get("error").is_none(), "{message}");
            return Some((id, message["result"].take()));
        }
        let method = message["method"].as_str().unwrap_or("").to_owned();
        self.told.push((method, message["params"].take()));
        None
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
