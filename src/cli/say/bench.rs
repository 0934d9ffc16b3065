//! What the terminal says of the page at the bench.

use super::TellPath as _;
use super::{BAD, CARE, CODE, head, log, styled};
use fast_qr::ECL;
use fast_qr::qr::QRBuilder;
use std::fmt::Display;
use std::io;
use std::net::IpAddr;
use std::path::Path;
use twinstrake::job::Job;
use twinstrake::log::Entry;

/// A page that has just been opened.
pub struct Open<'a> {
    pub dir: &'a Path,
    /// The addresses of this machine that it is opened at.
    pub addresses: &'a [IpAddr],
    /// Whether telephones were to be let in, and there is no network that they could come from.
    pub nobody: bool,
    pub port: u16,
    pub token: Option<&'a str>,
    pub look_only: bool,
}

/// Where the page is.
pub fn bench_is_open(open: &Open<'_>) -> String {
    let mut text = head(&format!("The bench for {}", open.dir.told()));
    let address = |ip: &IpAddr| match open.token {
        Some(word) => format!("http://{ip}:{}/enter?word={word}", open.port),
        None => format!("http://{ip}:{}/", open.port),
    };
    for ip in open.addresses {
        text += &format!("  {}\n", address(ip));
    }
    if open.nobody {
        text += &format!(
            "{} this machine is in no network of a shop or a home (192.168.x.x, 10.x.x.x and the like). Join one, \
                and open the bench again.\n",
            styled(CARE, "No telephone can reach it:")
        );
    } else if open.token.is_some() {
        if let Some(code) = open.addresses.first().and_then(|ip| code(&address(ip))) {
            text += &code;
        }
        text += "Scan the code with a telephone in the same network, or type the whole address. Whoever has it can \
            read the job";
        text += if open.look_only {
            ".\n"
        } else {
            ", and tell what happened.\n"
        };
        text += "What goes over the air is not hidden from others in that network: use it in a network of your own.\n";
    } else {
        text += "It can be opened on this machine only. For telephones in the shop: --lan\n";
    }
    if open.look_only {
        text += "It is to look at: nothing can be told.\n";
    }
    text + "Ctrl-C closes it.\n"
}

/// The address as a code for a telephone: two cells high to a letter, dark on light whatever the terminal's colours.
fn code(address: &str) -> Option<String> {
    const QUIET: usize = 2;
    let code = QRBuilder::new(address).ecl(ECL::L).build().ok()?;
    let dark = |row: usize, column: usize| {
        let inside = |at: usize| (QUIET..QUIET + code.size).contains(&at);
        inside(row) && inside(column) && code[row - QUIET][column - QUIET].value()
    };
    let all = code.size + 2 * QUIET;
    let mut text = String::new();
    for row in (0..all).step_by(2) {
        let line: String = (0..all)
            .map(|column| match (dark(row, column), dark(row + 1, column)) {
                (true, true) => '█',
                (true, false) => '▀',
                (false, true) => '▄',
                (false, false) => ' ',
            })
            .collect();
        text += &format!("{}\n", styled(CODE, &line));
    }
    Some(text)
}

/// What closes it.
pub fn bench_is_closed() -> String {
    "The bench is closed. All that was acknowledged is on the disk.\n".into()
}

/// No port is free.
pub fn no_port(asked: Option<u16>, error: &io::Error) -> String {
    let (which, mend) = match asked {
        Some(port) => (format!("Port {port}"), "Choose another, as --port 8080."),
        None => ("No port".into(), "Choose one, as --port 8080."),
    };
    format!(
        "{} {which} can be opened: {error}. {mend}\n",
        styled(BAD, "No page.")
    )
}

/// The system gives no chance to make a word from.
pub fn no_chance(error: &dyn Display) -> String {
    format!(
        "{} The system gives no random numbers: {error}.\n",
        styled(BAD, "No page.")
    )
}

/// The page fell over.
pub fn bench_fell_over(error: &io::Error) -> String {
    format!(
        "{} {error}. All that was acknowledged is on the disk.\n",
        styled(BAD, "The page can't be kept open:")
    )
}

/// An entry in the shop's words.
pub fn entry(job: &Job, entries: &[Entry], number: usize) -> String {
    match number.checked_sub(1).and_then(|at| entries.get(at)) {
        Some(entry) => log::told(&job.hull, job.unit, &entry.event, entries),
        None => String::new(),
    }
}
