//! The connections: taken, counted, and dropped where nothing comes.

use super::events::Ending;
use super::guard::At;
use crate::cli::stop::INTERRUPTED;
use axum::Router;
use axum::body::Body;
use hyper::body::Incoming;
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::{TokioIo, TokioTimer};
use std::collections::HashMap;
use std::io;
use std::net::{IpAddr, Ipv4Addr, SocketAddr, TcpListener};
use std::ops::RangeInclusive;
use std::pin::pin;
use std::process;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;
use tokio::net::TcpStream;
use tokio::sync::watch;
use tokio::time::{sleep, timeout};
use tower::ServiceExt;

/// How long a client may take for the head of a request, and how long a connection may stay silent.
const HEAD: Duration = Duration::from_secs(5);
/// How long a connection lasts. A browser makes another; whoever reads nothing of what he asked for is got rid of.
const LIFE: Duration = Duration::from_secs(120);
/// How long what is under way may take to end.
const LAST: Duration = Duration::from_secs(10);
/// Connections at a time, in all and from one address. Why two: nobody can take the place of all others.
const ALL: usize = 256;
const EACH: usize = 32;
/// The head of a request. Unit: bytes; fields.
const HEAD_BYTES: usize = 16 * 1024;
const FIELDS: usize = 64;

/// Opens the door at a port: that asked for, else the first free one of those.
///
/// Errors: it is taken, or the system refused.
pub fn listener(
    at: Ipv4Addr,
    asked: Option<u16>,
    ports: RangeInclusive<u16>,
) -> io::Result<TcpListener> {
    let open = |port: u16| TcpListener::bind((at, port));
    match asked {
        Some(port) => open(port),
        None => ports
            .map(open)
            .reduce(io::Result::or)
            .unwrap_or_else(|| open(0)),
    }
}

/// Whether an address is one of a shop's own network and not of the internet. Source: RFC 1918, RFC 3927, RFC 1122.
pub fn is_of_the_shop(address: IpAddr) -> bool {
    match address {
        IpAddr::V4(ip) => ip.is_loopback() || ip.is_private() || ip.is_link_local(),
        IpAddr::V6(_) => false,
    }
}

/// Takes connections until Ctrl-C, and lets those under way end. A second Ctrl-C leaves at once.
///
/// Errors: the system gives no connections.
pub async fn serve(listener: TcpListener, routes: Router) -> io::Result<()> {
    listener.set_nonblocking(true)?;
    let listener = tokio::net::TcpListener::from_std(listener)?;
    let (stop, mut stopped) = watch::channel(false);
    // Where no handler can be set, Ctrl-C just ends the program: what was acknowledged is on the disk.
    let _ = ctrlc::set_handler(move || {
        if stop.send_replace(true) {
            process::exit(INTERRUPTED);
        }
    });
    let taken = Arc::new(Mutex::new(HashMap::new()));
    let mut under_way = tokio::task::JoinSet::new();
    loop {
        let accepted = tokio::select! {
            accepted = listener.accept() => accepted,
            _ = stopped.wait_for(|stop| *stop) => break,
        };
        while under_way.try_join_next().is_some() {}
        match accepted {
            Ok((stream, from)) => {
                if let Some(place) = Place::take(&taken, from.ip()) {
                    under_way.spawn(connection(
                        stream,
                        from,
                        place,
                        routes.clone(),
                        stopped.clone(),
                    ));
                }
            }
            // A client that went away again, or too many open files: others are served on.
            Err(_) => sleep(Duration::from_millis(50)).await,
        }
    }
    let _ = timeout(LAST, async {
        while under_way.join_next().await.is_some() {}
    })
    .await;
    Ok(())
}

async fn connection(
    stream: TcpStream,
    from: SocketAddr,
    place: Place,
    routes: Router,
    mut stopped: watch::Receiver<bool>,
) {
    let Ok(here) = stream.local_addr() else {
        return;
    };
    if !is_of_the_shop(from.ip()) || !is_of_the_shop(here.ip()) {
        return;
    }
    let _ = stream.set_nodelay(true);
    let ending = Ending(stopped.clone());
    let service = service_fn(move |request: hyper::Request<Incoming>| {
        let mut request = request.map(Body::new);
        request.extensions_mut().insert(At(here));
        request.extensions_mut().insert(ending.clone());
        routes.clone().oneshot(request)
    });
    let mut http = http1::Builder::new();
    http.timer(TokioTimer::new())
        .header_read_timeout(HEAD)
        .max_headers(FIELDS)
        .max_buf_size(HEAD_BYTES);
    let mut connection = pin!(http.serve_connection(TokioIo::new(stream), service));
    tokio::select! {
        _ = connection.as_mut() => return,
        _ = stopped.wait_for(|stop| *stop) => {}
        () = sleep(LIFE) => {}
    }
    connection.as_mut().graceful_shutdown();
    let _ = timeout(LAST, connection).await;
    drop(place);
}

type Taken = Arc<Mutex<HashMap<IpAddr, usize>>>;

/// A place among the connections, given back when it is dropped.
struct Place {
    taken: Taken,
    from: IpAddr,
}

impl Place {
    fn take(taken: &Taken, from: IpAddr) -> Option<Place> {
        let mut all = taken.lock().unwrap_or_else(PoisonError::into_inner);
        let here = all.get(&from).copied().unwrap_or_default();
        if here >= EACH || all.values().sum::<usize>() >= ALL {
            return None;
        }
        all.insert(from, here + 1);
        Some(Place {
            taken: Arc::clone(taken),
            from,
        })
    }
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut all = self.taken.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(here) = all.get_mut(&self.from) {
            *here -= 1;
            if *here == 0 {
                all.remove(&self.from);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_phone_can_not_take_the_places_of_all_others() {
        let taken: Taken = Arc::default();
        let greedy = IpAddr::from([192, 168, 1, 7]);
        let mut held: Vec<Place> = (0..EACH)
            .filter_map(|_| Place::take(&taken, greedy))
            .collect();
        assert_eq!(held.len(), EACH);
        assert!(Place::take(&taken, greedy).is_none());
        assert!(Place::take(&taken, IpAddr::from([192, 168, 1, 8])).is_some());
        held.pop();
        assert!(Place::take(&taken, greedy).is_some());
    }

    #[test]
    fn the_internet_is_not_of_the_shop() {
        for ours in [
            [192, 168, 1, 7],
            [10, 0, 0, 1],
            [172, 16, 4, 4],
            [127, 0, 0, 1],
            [169, 254, 3, 3],
        ] {
            assert!(is_of_the_shop(IpAddr::from(ours)), "{ours:?}");
        }
        for theirs in [
            [8, 8, 8, 8],
            [172, 32, 0, 1],
            [100, 64, 0, 1],
            [192, 0, 2, 1],
        ] {
            assert!(!is_of_the_shop(IpAddr::from(theirs)), "{theirs:?}");
        }
    }
}
