//! `bench`: the job on a page, for the phones and tablets in the shop.
//!
//! Everything that the page says and does goes through the functions that the commands go through. `serve` takes the
//! connections, `guard` decides who may come in, `routes` which screen is asked for, `seen` holds the job as it was
//! last read, `entries` takes what is told; each of the rest makes one screen. Start with `routes`.

mod boat;
mod boats;
mod choose;
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

pub use scan::read_one;

use super::args::Bench as Typed;
use super::say;
use super::status::{Ended, Status};
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

pub fn run(typed: &Typed) -> Ended {
    let boats = Boats::of(&typed.dir);
    // Read here, so that the first who asks does not wait for it.
    for boat in boats.all() {
        let seen = boat.now();
        boat.draw(&seen);
        if let Err(complaints) = &seen.state {
            say::err(&say::complaints(complaints));
            if !boat.dir.is_dir() {
                return Err(Status::BadInput);
            }
        }
    }
    let here = if typed.lan {
        Ipv4Addr::UNSPECIFIED
    } else {
        Ipv4Addr::LOCALHOST
    };
    let listener = serve::listener(here, typed.port, PORTS)
        .map_err(|error| say::at_fault(&say::no_port(typed.port, &error)))?;
    let port = listener.local_addr().map(|address| address.port());
    let port = port.map_err(|_| say::at_fault(&say::bug("the page has no address")))?;
    let token = typed.lan.then(token::fresh).transpose();
    let token = token.map_err(|error| say::at_fault(&say::no_chance(&error)))?;
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
    say::out(&say::bench_is_open(&open)).map_err(|_| Status::Fault)?;
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
    ended.map_err(|error| say::at_fault(&say::bench_fell_over(&error)))?;
    Ok(say::done(&say::bench_is_closed()))
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
