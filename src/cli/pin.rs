//! Wants written into boat.toml, and taken out again. Everything else keeps its place, its comments and its line ends.

use encoding_rs::WINDOWS_1252;
use toml_edit::{
    Array, ArrayOfTables, DocumentMut, InlineTable, Item, Key, Table, TableLike, Value, value,
};
use twinstrake::plan::Want;

const WANT: &str = "want";
const MARK: &[u8] = b"\xef\xbb\xbf";

/// boat.toml with these wants, each in the words of its panel, after those that are there. One of the same name is
/// renewed.
///
/// `None` where the text can't be read.
pub fn with(boat: &[u8], wants: &[(&str, Want)]) -> Option<Vec<u8>> {
    edited(boat, |document| {
        for (panel, want) in wants {
            let new = table(panel, want);
            let same = |name: Option<&str>| name == Some(&want.name);
            match document.entry(WANT).or_insert(none_yet()) {
                Item::ArrayOfTables(all) => {
                    let there = all.iter_mut().find(|old| same(called(*old)));
                    match there {
                        Some(old) => renew(old, &new),
                        None => all.push(new),
                    }
                }
                Item::Value(Value::Array(all)) => {
                    all.retain(|old| !same(called_on_one_line(old)));
                    all.push(on_one_line(new));
                }
                _ => return None,
            }
        }
        Some(())
    })
}

/// boat.toml without the wants of these names.
///
/// `None` where the text can't be read.
pub fn without(boat: &[u8], names: &[String]) -> Option<Vec<u8>> {
    edited(boat, |document| {
        let named = |name: Option<&str>| names.iter().any(|other| name == Some(other));
        let left = match document.get_mut(WANT)? {
            Item::ArrayOfTables(all) => {
                all.retain(|want| !named(called(want)));
                all.len()
            }
            Item::Value(Value::Array(all)) => {
                all.retain(|want| !named(called_on_one_line(want)));
                all.len()
            }
            _ => return None,
        };
        if left == 0 {
            document.remove(WANT);
        }
        Some(())
    })
}

fn called(want: &dyn TableLike) -> Option<&str> {
    want.get("name").and_then(Item::as_str)
}

/// Where the wants are a list on one line.
fn called_on_one_line(want: &Value) -> Option<&str> {
    called(want.as_inline_table()?)
}

fn none_yet() -> Item {
    Item::ArrayOfTables(ArrayOfTables::new())
}

/// A want as boat.toml has it, its keys under each other with their values in one column.
fn table(panel: &str, want: &Want) -> Table {
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    table.insert("name", value(&want.name));
    table.insert("panel", value(panel));
    if let Some((first, last)) = want.courses {
        let both = Array::from_iter([i64::from(first), i64::from(last)]);
        match first == last {
            true => table.insert("course", value(i64::from(first))),
            false => table.insert("courses", value(both)),
        };
    }
    table.insert("strips", value(Array::from_iter(&want.strips)));
    if !want.keep {
        table.insert("keep", value(false));
    }
    if let Some(port) = &want.port {
        table.insert("port", value(port));
    }
    for (mut key, _) in table.iter_mut() {
        let blanks = " ".repeat(8_usize.saturating_sub(key.get().len()));
        key.leaf_decor_mut().set_suffix(blanks);
    }
    table
}

fn on_one_line(table: Table) -> InlineTable {
    let mut table = table.into_inline_table();
    table.fmt();
    table
}

/// The old want says what the new one says. Comments beside what it says already stay.
fn renew(old: &mut Table, new: &Table) {
    old.retain(|key, _| new.contains_key(key));
    for (key, item) in new {
        match (
            old.get_mut(key).and_then(Item::as_value_mut),
            item.as_value(),
        ) {
            (Some(there), Some(value)) => {
                let decor = there.decor().clone();
                *there = value.clone();
                *there.decor_mut() = decor;
            }
            _ => {
                let fresh = Key::new(key);
                old.insert_formatted(new.key(key).unwrap_or(&fresh), item.clone());
            }
        }
    }
}

/// Edits the text of a file. Its byte-order mark, its encoding and its line ends stay: the library knows UTF-8 and
/// `\n` alone.
fn edited(bytes: &[u8], edit: impl FnOnce(&mut DocumentMut) -> Option<()>) -> Option<Vec<u8>> {
    let bare = bytes.strip_prefix(MARK);
    let text = bare.unwrap_or(bytes);
    let (old, windows) = match std::str::from_utf8(text) {
        Ok(text) => (text.into(), false),
        Err(_) => (WINDOWS_1252.decode_without_bom_handling(text).0, true),
    };
    let plain = old.replace("\r\n", "\n").replace('\r', "\n");
    let mut document: DocumentMut = plain.parse().ok()?;
    edit(&mut document)?;
    let new = with_line_ends_of(&old, &document.to_string());
    if windows && let (bytes, _, false) = WINDOWS_1252.encode(&new) {
        return Some(bytes.into_owned());
    }
    Some([bare.map_or(&[][..], |_| MARK), new.as_bytes()].concat())
}

/// The new text, in which every line that was there ends as it did, and the others as the first of the old ones.
fn with_line_ends_of(old: &str, new: &str) -> String {
    let old = lines(old);
    let new = lines(new);
    let mut ends = old.iter().map(|(_, end)| *end);
    let usual = ends.find(|end| !end.is_empty()).unwrap_or("\n");
    let same = |pair: &(&(&str, &str), &(&str, &str))| pair.0.0 == pair.1.0;
    let before = old.iter().zip(&new).take_while(same).count();
    let most = old.len().min(new.len()) - before;
    let after = old
        .iter()
        .rev()
        .zip(new.iter().rev())
        .take(most)
        .take_while(same)
        .count();
    let mut text = String::new();
    for (i, (line, end)) in new.iter().enumerate() {
        let as_before = match i {
            i if i < before => Some(old[i].1),
            i if i + after >= new.len() => Some(old[old.len() - (new.len() - i)].1),
            _ => None,
        };
        text += line;
        // The last line of the old text may have had none.
        text += match (end.is_empty(), as_before) {
            (true, _) => "",
            (false, Some(end)) if !end.is_empty() => end,
            _ => usual,
        };
    }
    text
}

/// Every line, and how it ends: with `\n`, `\r\n`, `\r`, or, the last, with nothing.
fn lines(text: &str) -> Vec<(&str, &str)> {
    let mut all = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find(['\r', '\n']) {
        let wide = if rest[at..].starts_with("\r\n") { 2 } else { 1 };
        all.push((&rest[..at], &rest[at..at + wide]));
        rest = &rest[at + wide..];
    }
    if !rest.is_empty() {
        all.push((rest, ""));
    }
    all
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use twinstrake::hull::PanelId;

    fn pin(name: &str) -> Want {
        Want {
            name: name.into(),
            panel: PanelId(0),
            courses: Some((3, 3)),
            wood: None,
            boards: Vec::new(),
            strips: vec!["D3".into(), "D4".into()],
            keep: true,
            accent: None,
            port: Some("D4".into()),
        }
    }

    fn pinned(boat: &str) -> String {
        String::from_utf8(with(boat.as_bytes(), &[("topside", pin("topside 3 by hand"))]).unwrap())
            .unwrap()
    }

    const PIN: &str = "\n[[want]]\nname    = \"topside 3 by hand\"\npanel   = \"topside\"\ncourse  = 3\n\
                       strips  = [\"D3\", \"D4\"]\nport    = \"D4\"\n";

    #[test]
    fn a_want_is_written_under_the_others_and_every_other_byte_stays() {
        let boat = "# a boat\nname = 'x' # hers\n\n[joint]\n clear=300 # mm\n";
        assert_eq!(pinned(boat), format!("{boat}{PIN}"));
        let wanted = format!("{boat}\n[[want]] # the line\nname = \"line\"\n");
        assert_eq!(pinned(&wanted), format!("{wanted}{PIN}"));
        assert_eq!(
            pinned(&format!("{boat}# the end\n")),
            format!("{boat}{PIN}# the end\n")
        );
    }

    #[test]
    fn a_want_of_the_same_name_is_renewed_and_its_comments_stay() {
        let old = "name = \"x\"\n[[want]]\n# best wood\nname = \"topside 3 by hand\" # mine\npanel = \"topside\"\n\
                   course = 3\n\
                   strips = [\"A1\"]\nkeep = false\n";
        assert_eq!(
            pinned(old),
            "name = \"x\"\n[[want]]\n# best wood\nname = \"topside 3 by hand\" # mine\npanel = \"topside\"\n\
             course = 3\n\
             strips = [\"D3\", \"D4\"]\nport    = \"D4\"\n"
        );
        let list = "want = [{ name = \"topside 3 by hand\", panel = \"topside\", wood = \"oak\" }]\nname = \"x\"\n";
        assert_eq!(
            pinned(list),
            "want = [{ name = \"topside 3 by hand\", panel = \"topside\", course = 3, strips = [\"D3\", \"D4\"], \
             port = \"D4\" }]\n\
             name = \"x\"\n"
        );
    }

    #[test]
    fn a_text_of_windows_stays_one() {
        let boat = b"name = \"B\xf6rte\"\r\n";
        let new = with(boat, &[("topside", pin("p"))]).unwrap();
        assert!(new.starts_with(boat) && new.ends_with(b"port    = \"D4\"\r\n"));
    }

    proptest! {
        /// Whatever the line ends and the comments: what is pinned and taken out again leaves the file as it was, to
        /// the byte.
        #[test]
        fn what_is_pinned_and_taken_out_again_was_never_there(
            lines in proptest::collection::vec(
                (prop_oneof![
                    Just("# a comment"), Just(""), Just("\t"), Just("[[show]]  "), Just("[[want]]\nname = 'a'"),
                    Just("[[panel]] # two")
                ], prop_oneof![Just("\n"), Just("\r\n")]),
                1..12
            ),
            mark in any::<bool>(),
        ) {
            let mut boat: Vec<u8> = if mark { MARK.to_vec() } else { Vec::new() };
            for (line, end) in &lines {
                boat.extend(line.replace('\n', end).bytes());
                boat.extend(end.bytes());
            }
            let wants = [("topside", pin("one")), ("topside", pin("two"))];
            let new = with(&boat, &wants).unwrap();
            prop_assert_ne!(&new, &boat);
            let back = without(&new, &["one".into(), "two".into()]).unwrap();
            prop_assert_eq!(String::from_utf8_lossy(&back), String::from_utf8_lossy(&boat));
        }
    }
}
