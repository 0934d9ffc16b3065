//! From the bytes of a file to its text: encodings, byte-order marks, and files that are no text at all.

use super::complaint::Complaint;
use super::found::Found;

/// The text of a file: UTF-8 with or without a byte-order mark, else Windows-1252. Line ends become `\n`.
///
/// Errors: a complaint is left in `found` where the file is empty, UTF-16, or not text.
pub(super) fn decode(file: &str, bytes: &[u8], found: &mut Found) -> Option<String> {
    if let Some(complaint) = refusal(file, bytes) {
        found.complain(complaint);
        return None;
    }
    let bytes = bytes.strip_prefix(&[0xef, 0xbb, 0xbf]).unwrap_or(bytes);
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => encoding_rs::WINDOWS_1252
            .decode_without_bom_handling(bytes)
            .0
            .into_owned(),
    };
    Some(text.replace("\r\n", "\n").replace('\r', "\n"))
}

fn refusal(file: &str, bytes: &[u8]) -> Option<Complaint> {
    let complaint = |wrong: &str, mend: &str| Some(Complaint::of(file, wrong, mend));
    if bytes.iter().all(u8::is_ascii_whitespace) || bytes == [0xef, 0xbb, 0xbf] {
        return complaint("the file is empty", "Fill it as docs/formats.md says.");
    }
    if bytes.starts_with(b"PK\x03\x04") {
        return complaint(
            "the file is a spreadsheet or an archive, not text",
            "Save the sheet as CSV UTF-8.",
        );
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) || looks_utf16(bytes) {
        return complaint(
            "the file is UTF-16",
            "Save it as CSV UTF-8, or as UTF-8 text.",
        );
    }
    let odd = |b: &u8| *b < 0x20 && !matches!(b, b'\t' | b'\n' | b'\r' | 0x0b | 0x0c);
    let at = bytes.iter().position(odd)?;
    let line = 1 + bytes[..at].iter().filter(|b| **b == b'\n').count();
    complaint(
        "the file is not text",
        "Save the sheet as CSV UTF-8, or the file as plain text.",
    )
    .map(|complaint| complaint.at(line))
}

/// UTF-16 without its mark: plain text has a zero byte in every second place.
fn looks_utf16(bytes: &[u8]) -> bool {
    let start = &bytes[..bytes.len().min(200)];
    let zeros = |from: usize| {
        start
            .iter()
            .skip(from)
            .step_by(2)
            .filter(|b| **b == 0)
            .count()
    };
    let half = start.len() / 2;
    half > 1 && (zeros(0) * 10 > half * 8) != (zeros(1) * 10 > half * 8)
}
