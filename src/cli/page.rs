//! `page`: the bench page in a browser.

use super::terminal::{self, message};
use super::{Failure, Result};
use crate::diagnostic::shown_path;
use crate::export::hex;
use crate::page::{Door, Workshop, serve};
use clap::Args;
use std::net::{IpAddr, SocketAddr, UdpSocket};
use std::path::PathBuf;

#[derive(Args, Debug)]
pub(super) struct Page {
    /// The workshop's folder: its `templates` come first on the shelf [default: this folder]
    #[arg(value_name = "FOLDER")]
    folder: Option<PathBuf>,
    /// Where to listen; an address of the network lets its other machines in, with a token
    #[arg(long, value_name = "ADDRESS", default_value = "127.0.0.1:8470")]
    listen: SocketAddr,
    /// Open the page in the browser of this machine
    #[arg(long)]
    open: bool,
}

pub(super) fn run(args: &Page) -> Result {
    let folder = args.folder.clone().unwrap_or_else(|| PathBuf::from("."));
    if !folder.is_dir() {
        let why =
            format!("{} is no folder; give the workshop's folder", shown_path(&folder));
        return Err(Failure::System(why));
    }
    let workshop = Workshop::open(folder).map_err(Failure::System)?;
    if !workshop.notes().is_empty() {
        message(workshop.notes().trim_end());
    }
    let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build();
    let runtime = runtime.map_err(|e| Failure::System(format!("cannot begin: {e}")))?;
    runtime.block_on(async {
        let cannot = |e: std::io::Error| {
            let at = args.listen;
            Failure::System(format!(
                "cannot listen on {at}: {e}; give another port, such as --listen {}:0",
                at.ip()
            ))
        };
        let listener = tokio::net::TcpListener::bind(args.listen).await.map_err(cannot)?;
        let at = listener.local_addr().map_err(cannot)?;
        let token = if at.ip().is_loopback() { None } else { Some(token()?) };
        match &token {
            None => message(&format!("Open http://{at}/ in a browser. Ctrl-C ends it.")),
            Some(token) => {
                let reached = SocketAddr::new(own_address(at.ip()), at.port());
                let address = format!("http://{reached}/?token={token}");
                message(&format!(
                    "warning: every machine of the network can reach this page, and whoever \
                     reads along sees it.\nOpen {address} in a browser. Ctrl-C ends it."
                ));
                if !reached.ip().is_unspecified() {
                    terminal::qr_code(&address);
                }
            }
        }
        if args.open {
            // From this machine the page is reached at every address that it listens on.
            let ip = if at.ip().is_unspecified() { IpAddr::from([127, 0, 0, 1]) } else { at.ip() };
            let token = token.iter().map(|token| format!("?token={token}"));
            let page = format!("http://{}/{}", SocketAddr::new(ip, at.port()), token.collect::<String>());
            if let Err(e) = opener::open(page) {
                message(&format!("warning: no browser opens: {e}; open the address yourself"));
            }
        }
        let door = Door { at, token };
        serve(listener, workshop, door).await.map_err(cannot)
    })
}

/// The address at which the network reaches this machine; `ip` itself where it is one, or where
/// the machine is on no network.
fn own_address(ip: IpAddr) -> IpAddr {
    // Addresses for documentation (RFC 5737, RFC 3849): nothing is sent to them.
    let away = if ip.is_ipv4() { "192.0.2.1:9" } else { "[2001:db8::1]:9" };
    let towards = || {
        let socket = UdpSocket::bind((ip, 0))?;
        socket.connect(away)?;
        socket.local_addr()
    };
    if !ip.is_unspecified() {
        return ip;
    }
    towards().map_or(ip, |own| own.ip())
}

/// 128 random bits in hexadecimal digits.
fn token() -> Result<String> {
    let mut bytes = [0; 16];
    getrandom::fill(&mut bytes).map_err(|e| {
        Failure::System(format!("the system gives no random numbers: {e}"))
    })?;
    Ok(hex(&bytes))
}
