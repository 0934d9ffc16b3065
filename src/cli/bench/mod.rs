//! `bench`: the job on a page, for the phones and tablets in the shop.
//!
//! Everything that the page says and does goes through the functions that the commands go through. `serve` takes the
//! connections, `guard` decides who may come in, `routes` which screen is asked for, `seen` holds the job as it was
//! last read, `entries` takes what is told; each of the rest makes one screen. Start with `routes`.

mod boat;
mod boats;
mod entries;
mod events;
mod files;
mod find;
mod frame;
mod guard;
mod hull;
mod laying;
mod plan;
mod planning;
mod print;
mod record;
mod refused;
mod routes;
mod scan;
mod seen;
mod serve;
mod shelf;
mod strip;
mod token;
mod visit;

pub(super) use scan::read_one;

use super::args::Bench as Typed;
use super::say;
use super::status::Status;
use boats::Boats;
use guard::Door;
use planning::Planning;
use std::net::{IpAddr, Ipv4Addr};
use std::sync::Arc;
use tokio::runtime;
use tokio::sync::Semaphore;

/// The ports that are tried where none is asked for. Why always the same: what a phone keeps, it keeps for one address.
const PORTS: std::ops::RangeInclusive<u16> = 4179..=4188;
/// Threads that read the job and write to it. More wait.
const HANDS: usize = 8;

/// Photographs and sheets that are taken at a time.
const LARGE: usize = 2;

/// What every screen is made from.
struct Bench {
    door: Door,
    boats: Boats,
    planning: Arc<Planning>,
    /// Whoever sends something large holds it.
    large: Semaphore,
}

pub(super) fn run(typed: &Typed) -> Status {
    let boats = Boats::of(&typed.dir);
    // Read here, so that the first who asks does not wait for it.
    for boat in boats.all() {
        let seen = boat.now();
        boat.draw(&seen);
        if let Err(complaints) = &seen.state {
            say::err(&say::complaints(complaints));
            if !boat.dir.is_dir() {
                return Status::BadInput;
            }
        }
    }
    let here = if typed.lan {
        Ipv4Addr::UNSPECIFIED
    } else {
        Ipv4Addr::LOCALHOST
    };
    let listener = match serve::listener(here, typed.port, PORTS) {
        Ok(listener) => listener,
        Err(error) => {
            say::err(&say::no_port(typed.port, &error));
            return Status::Fault;
        }
    };
    let Ok(port) = listener.local_addr().map(|address| address.port()) else {
        say::err(&say::bug("the page has no address"));
        return Status::Fault;
    };
    let token = match typed.lan.then(token::fresh).transpose() {
        Ok(token) => token,
        Err(error) => {
            say::err(&say::no_chance(&error));
            return Status::Fault;
        }
    };
    let lan = if typed.lan { lan() } else { Vec::new() };
    let nobody = typed.lan && lan.is_empty();
    let addresses = match lan.as_slice() {
        [] => vec![Ipv4Addr::LOCALHOST.into()],
        _ => lan,
    };
    let open = say::Open {
        dir: &typed.dir,
        addresses: &addresses,
        nobody,
        port,
        token: token.as_deref(),
        look_only: typed.look_only,
    };
    if say::out(&say::bench_is_open(&open)).is_err() {
        return Status::Fault;
    }
    let bench = Arc::new(Bench {
        door: Door {
            port,
            token,
            look_only: typed.look_only,
        },
        boats,
        planning: Arc::new(Planning::new()),
        large: Semaphore::new(LARGE),
    });
    let planning = Arc::clone(&bench.planning);
    let runtime = runtime::Builder::new_current_thread()
        .enable_all()
        .max_blocking_threads(HANDS)
        .build();
    let ended = runtime.and_then(|runtime| {
        let ended = runtime.block_on(serve::serve(listener, routes::routes(bench)));
        // Whoever is still writing is let write to the end, and what a search has found so far is kept.
        drop(runtime);
        planning.end();
        ended
    });
    match ended {
        Ok(()) => say::done(&say::bench_is_closed()),
        Err(error) => {
            say::err(&say::bench_fell_over(&error));
            Status::Fault
        }
    }
}

/// The addresses of this machine in the shop's network.
fn lan() -> Vec<IpAddr> {
    let all = if_addrs::get_if_addrs().unwrap_or_default();
    let mut here: Vec<IpAddr> = all
        .iter()
        .filter(|one| !one.is_loopback())
        .map(if_addrs::Interface::ip)
        .filter(|ip| ip.is_ipv4() && serve::is_of_the_shop(*ip))
        .collect();
    here.sort();
    here.dedup();
    here
}
