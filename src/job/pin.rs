//! A want written under everything else in boat.toml. What stands there keeps every byte.

use super::keys::FILE;
use super::text::decode;
use super::{Complaint, complaint::Found};
use crate::plan::Want;
use toml::Value;
use toml::de::DeTable;

/// boat.toml with one want more, in the words of its panel.
///
/// Errors: why it can't be written there.
pub fn with_want(boat: &[u8], panel: &str, want: &Want) -> Result<Vec<u8>, Box<Complaint>> {
    let end = match boat.windows(2).any(|two| two == b"\r\n") {
        true => "\r\n",
        false => "\n",
    };
    let text = |text: &str| Value::String(text.to_owned()).to_string();
    let list = |names: &[String]| {
        Value::Array(names.iter().cloned().map(Value::String).collect()).to_string()
    };
    let mut lines = vec![
        String::new(),
        "[[want]]".into(),
        format!("name    = {}", text(&want.name)),
        format!("panel   = {}", text(panel)),
    ];
    if let Some((first, last)) = want.courses {
        lines.push(match first == last {
            true => format!("course  = {first}"),
            false => format!("courses = [{first}, {last}]"),
        });
    }
    lines.push(format!("strips  = {}", list(&want.strips)));
    if !want.keep {
        lines.push("keep    = false".into());
    }
    lines.extend(
        want.port
            .as_ref()
            .map(|port| format!("port    = {}", text(port))),
    );
    let mut pinned = boat.to_vec();
    if !boat.is_empty() && !boat.ends_with(b"\n") {
        pinned.extend(end.as_bytes());
    }
    for line in lines {
        pinned.extend(line.as_bytes());
        pinned.extend(end.as_bytes());
    }
    let read = decode(FILE, &pinned, &mut Found::default());
    let sound = read.is_some_and(|text| DeTable::parse_recoverable(&text).1.is_empty());
    match sound {
        true => Ok(pinned),
        false => Err(Box::new(Complaint::of(
            FILE,
            "has its wants in a form to which none can be added",
            "Write each of them as [[want]] on a line of its own, and its keys under it.",
        ))),
    }
}
