//! The page at the bench as a shop meets it: over the real program, by telephones that behave and by such that don't.

mod attack;
mod browser;
mod day;
mod entries;
mod faults;
mod files;
mod paper;
mod plan;
mod scan;
mod screens;
mod shelf;

use crate::common::naive;
use crate::folder::Folder;
use crate::report::browser as chromium;
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;
use tempfile::TempDir;
use twinstrake::{job, out};

/// How long an answer is waited for. Why so long: other tests have the machine as well.
const PATIENCE: Duration = Duration::from_secs(40);

/// A job folder with a plan, gone when dropped.
pub struct Shop(TempDir);

/// The program with its page open.
pub struct Bench {
    pub child: Child,
    /// `127.0.0.1:4179`.
    pub host: String,
    /// The way in that the terminal shows, without the address.
    pub way: String,
}

/// What came back; status 0 where nothing did.
#[derive(Debug, Default)]
pub struct Answer {
    pub status: u16,
    pub head: String,
    pub body: String,
}

impl Answer {
    /// Stops the test if the answer is of another status, and shows it.
    #[track_caller]
    pub fn is(&self, status: u16) {
        assert_eq!(self.status, status, "{} {}", self.head, self.body);
    }
}

impl Shop {
    /// The demo's boat and rack, laid by the plain planner.
    pub fn demo() -> Shop {
        Shop::with(|_, text| text)
    }

    /// The same with something changed in its files.
    pub fn with(change: impl Fn(&str, String) -> String) -> Shop {
        let files = [
            "boat.toml",
            "forms.csv",
            "offsets.csv",
            "boards.csv",
            "strips.csv",
        ];
        let read = |file: &str| fs::read_to_string(Path::new("demo-stock").join(file)).unwrap();
        Shop::of(&files.map(|file| (file, change(file, read(file)))))
    }

    /// Two courses on each side and one on the centreline: quick to read.
    pub fn small() -> Shop {
        let small = Folder::small();
        let files = ["boat.toml", "courses.csv", "strips.csv"];
        Shop::of(&files.map(|file| (file, small.read(file))))
    }

    /// With its page open.
    pub fn opened(self) -> (Shop, Bench) {
        let bench = self.open(&[]);
        (self, bench)
    }

    fn of(files: &[(&str, String)]) -> Shop {
        let shop = Shop(TempDir::new().unwrap());
        for (file, text) in files {
            fs::write(shop.path(file), text).unwrap();
        }
        let reading = job::read(shop.0.path()).unwrap();
        let plan = naive::plan(&reading.job, naive::Habit::FewJoints);
        fs::create_dir(shop.path("out")).unwrap();
        let order = out::laying_order(&reading.job, &plan).unwrap();
        fs::write(shop.path("out/laying-order.csv"), order).unwrap();
        shop
    }

    pub fn path(&self, file: &str) -> PathBuf {
        self.0.path().join(file)
    }

    pub fn read(&self, file: &str) -> String {
        fs::read_to_string(self.path(file)).unwrap()
    }

    pub fn open(&self, more: &[&str]) -> Bench {
        open(self.0.path(), more)
    }

    /// The job, read back as the program reads it.
    pub fn job(&self) -> job::Job {
        job::read(self.0.path()).unwrap().job
    }

    /// Its plan.
    pub fn plan(&self) -> twinstrake::plan::Plan {
        job::read_plan(self.0.path(), &self.job()).unwrap()
    }

    /// The log; no entry where there is none.
    pub fn log(&self) -> Vec<twinstrake::log::Entry> {
        job::read(self.0.path()).unwrap().entries().to_vec()
    }
}

/// What a field of a form on the page holds.
pub fn value<'p>(page: &'p str, field: &str) -> &'p str {
    let (_, after) = page
        .split_once(&format!("name=\"{field}\" value=\""))
        .expect(page);
    after.split('"').next().unwrap()
}

/// The bench of a folder.
pub fn open(dir: &Path, more: &[&str]) -> Bench {
    let mut child = Command::new(env!("CARGO_BIN_EXE_twinstrake"))
        .arg("bench")
        .arg(dir)
        .args(["--port", "0"])
        .args(more)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let address = lines
        .find_map(|line| Some(line.ok()?.trim().strip_prefix("http://")?.to_owned()))
        .expect("the program names its address");
    std::thread::spawn(move || lines.for_each(drop));
    let (host, way) = address.split_once('/').unwrap();
    Bench {
        child,
        host: host.to_owned(),
        way: format!("/{way}"),
    }
}

impl Bench {
    pub fn address(&self) -> SocketAddr {
        self.host.parse().unwrap()
    }

    /// Sends just this and reads all that comes.
    pub fn raw(&self, request: &[u8]) -> Answer {
        let Ok(mut stream) = TcpStream::connect(self.address()) else {
            return Answer::default();
        };
        stream.set_read_timeout(Some(PATIENCE)).unwrap();
        // An early answer breaks the pipe of whoever is still sending.
        let _ = stream.write_all(request);
        let mut bytes = Vec::new();
        let _ = stream.read_to_end(&mut bytes);
        let text = String::from_utf8_lossy(&bytes);
        let (head, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
        Answer {
            status: head
                .get(9..12)
                .and_then(|status| status.parse().ok())
                .unwrap_or(0),
            head: head.to_lowercase(),
            body: body.to_owned(),
        }
    }

    pub fn get(&self, path: &str) -> Answer {
        self.get_with(path, "")
    }

    /// The same with more fields in the head.
    pub fn get_with(&self, path: &str, more: &str) -> Answer {
        let host = &self.host;
        self.raw(
            format!("GET {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{more}\r\n")
                .as_bytes(),
        )
    }

    /// As a form of our own page sends it.
    pub fn post(&self, path: &str, body: &str) -> Answer {
        self.post_with(path, body, "")
    }

    /// The same with more fields in the head.
    pub fn post_with(&self, path: &str, body: &str, more: &str) -> Answer {
        let origin = format!("Origin: http://{}\r\n{more}", self.host);
        self.post_from(&origin, path, body)
    }

    /// Sends bytes as they are, as the script of our own page does.
    pub fn send(&self, path: &str, bytes: &[u8]) -> Answer {
        let (host, length) = (&self.host, bytes.len());
        let head = format!(
            "POST {path} HTTP/1.1\r\nHost: {host}\r\nOrigin: http://{host}\r\nConnection: close\r\n\
             Content-Length: {length}\r\n\r\n"
        );
        self.raw(&[head.as_bytes(), bytes].concat())
    }

    pub fn post_from(&self, origin: &str, path: &str, body: &str) -> Answer {
        let (host, length) = (&self.host, body.len());
        self.raw(
            format!(
                "POST {path} HTTP/1.1\r\nHost: {host}\r\n{origin}Connection: close\r\n\
                 Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {length}\r\n\r\n{body}"
            )
            .as_bytes(),
        )
    }

    /// A key as the pages of this job give it out.
    pub fn key(&self, own: &str) -> String {
        format!("{}{own}", &value(&self.get("/record").body, "key")[..8])
    }

    /// Tells an entry as the page's script does; its key is made one of this job.
    pub fn tell(&self, body: &str) -> Answer {
        let body = body.replace("key=", &format!("key={}", self.key("")));
        self.tell_as_it_is(&body)
    }

    /// The same with the key that it has.
    pub fn tell_as_it_is(&self, body: &str) -> Answer {
        self.post_with("/entry", body, "Accept: application/json\r\n")
    }

    /// The plan that the page shows.
    pub fn plan(&self) -> String {
        value(&self.get("/").body, "plan").to_owned()
    }

    /// Ends it as a power cut would.
    pub fn end(&self) {
        let id = self.child.id().to_string();
        let ended = Command::new("kill").args(["-9", &id]).status().unwrap();
        assert!(ended.success());
    }
}

impl Drop for Bench {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
