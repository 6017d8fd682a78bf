//! What keeps a file that is made to do harm from taking all memory, or all day, while it is
//! opened.
//!
//! `lopdf` bounds how deep it reads and what one stream unpacks to, and not how often it
//! reads the same bytes: a table may list one object a million times, and a packed run may
//! say that all its objects lie at one place. Once as much was kept as a print may take, the
//! reading is broken off. What it reads in vain is kept nowhere and seen by nobody: for that
//! there is an end of patience.

use lopdf::{Document, LoadOptions, Object, ObjectId, Stream};
use std::cell::Cell;
use std::panic::{catch_unwind, resume_unwind};
use std::sync::mpsc::{RecvTimeoutError, sync_channel};
use std::thread;
use std::time::Duration;

thread_local! {
    /// What may still be kept, in bytes: all that reaches a filter, which is a bare function,
    /// is what its thread knows.
    static LEFT: Cell<usize> = const { Cell::new(0) };
    /// What a part of the structure may unpack to.
    static STRUCTURE: Cell<usize> = const { Cell::new(0) };
}

/// About what an object takes beside its text.
const OBJECT: usize = 128;
/// How long a file may take to be opened: the largest print is drawn and read back in two.
const PATIENCE: Duration = Duration::from_secs(10);

/// What the reading is broken off with.
struct TooMuch;

const FAR_MORE: &str = "it holds far more than any print of strap sheets";

/// How much is read at most: far beyond any print of sheets, and little enough for any
/// machine.
#[derive(Clone, Copy, Debug)]
struct Limits {
    /// Bytes of the file.
    file: usize,
    /// Bytes of a locked file, and of the copies that are made of its objects.
    locked: usize,
    /// Bytes that its objects take, streams as they are packed.
    memory: usize,
    /// Bytes of a stream that holds a part of the file's structure, unpacked.
    structure: usize,
    /// Bytes of all other streams, unpacked.
    unpacked: usize,
    /// Pixels of all images.
    pixels: i64,
    pages: usize,
}

const LIMITS: Limits = Limits {
    file: 64 << 20,
    locked: 4 << 20,
    memory: 64 << 20,
    structure: 4 << 20,
    unpacked: 64 << 20,
    pixels: 64 << 20,
    pages: 1_000,
};

/// Whether a file can be opened without taking more than a print of sheets may.
///
/// # Errors
/// Says why it cannot be read, or that it would take too much.
pub(super) fn opens(bytes: &[u8]) -> Result<(), String> {
    if bytes.len() > LIMITS.file {
        return Err(format!(
            "it has {} MiB, and a print of strap sheets has less than {}",
            bytes.len() >> 20,
            LIMITS.file >> 20
        ));
    }
    let mut limits = LIMITS;
    if is_locked(bytes) {
        if copied_when_locked(bytes) > limits.locked {
            return Err("it is locked, and too large to be unlocked; save it without \
                        a password"
                .to_owned());
        }
        // All its packed objects are kept at once.
        limits.structure /= bytes.windows(6).filter(|w| w == b"stream").count().max(1);
    }
    let document = within(PATIENCE, bytes.to_vec(), limits, opened)?;
    if document.is_encrypted() {
        return Err("it is locked by a password; save it without one".to_owned());
    }
    unpacks(&document, &limits)?;
    let pages = document.page_iter().take(LIMITS.pages + 1).count();
    match pages {
        0 => Err("it has no pages".to_owned()),
        _ if pages > LIMITS.pages => {
            Err(format!("it has more than {} pages", LIMITS.pages))
        }
        _ => Ok(()),
    }
}

/// Whether all streams together unpack to no more than a print holds.
fn unpacks(document: &Document, limits: &Limits) -> Result<(), String> {
    let (mut left, mut pixels) = (limits.unpacked, limits.pixels);
    for object in document.objects.values() {
        let Object::Stream(stream) = object else { continue };
        let side =
            |key: &[u8]| stream.dict.get(key).and_then(Object::as_i64).unwrap_or(0);
        pixels = pixels.saturating_sub(side(b"Width").saturating_mul(side(b"Height")));
        if let Ok(content) = stream.get_plain_content_with_limit(left) {
            left = left.saturating_sub(content.len());
        } else if stream.dict.has(b"Filter") && !is_image(stream) {
            // What is damaged cannot be told from what is too large.
            return Err(
                "its content cannot be unpacked, or holds far too much".to_owned()
            );
        }
        if left == 0 || pixels < 0 {
            return Err(FAR_MORE.to_owned());
        }
    }
    Ok(())
}

/// Whether a stream is packed as images are, which their pixels bound.
fn is_image(stream: &Stream) -> bool {
    stream.dict.has(b"Width") && stream.dict.has(b"Height")
}

/// What `open` makes of a file on a thread of its own, which is left alone after `patience`:
/// nothing can end it from outside, and the program does not wait for it.
fn within(
    patience: Duration,
    bytes: Vec<u8>,
    limits: Limits,
    open: fn(&[u8], &Limits) -> Result<Document, String>,
) -> Result<Document, String> {
    let (done, waiting) = sync_channel(1);
    let work = move || {
        // Where nobody waits any more there is nobody to tell.
        let _ = done.send(open(&bytes, &limits));
    };
    let started = thread::Builder::new().name("open PDF".to_owned()).spawn(work);
    started.map_err(|error| format!("this machine starts no thread ({error})"))?;
    waiting.recv_timeout(patience).map_err(|error| match error {
        RecvTimeoutError::Timeout => {
            format!("it takes more than {} s to open", patience.as_secs())
        }
        RecvTimeoutError::Disconnected => "it cannot be read".to_owned(),
    })?
}

fn opened(bytes: &[u8], limits: &Limits) -> Result<Document, String> {
    LEFT.set(limits.memory);
    STRUCTURE.set(limits.structure);
    let options = LoadOptions {
        filter: Some(kept),
        max_decompressed_size: Some(limits.structure),
        ..LoadOptions::default()
    };
    match catch_unwind(|| Document::load_mem_with_options(bytes, options)) {
        Ok(document) => {
            document.map_err(|error| format!("it is no PDF that can be read ({error})"))
        }
        Err(why) if why.is::<TooMuch>() => Err(FAR_MORE.to_owned()),
        Err(why) => resume_unwind(why),
    }
}

/// An object as long as there is room for it. A filter can say nothing but which objects stay,
/// so once there is none left it unwinds, which breaks the reading off.
#[expect(clippy::unnecessary_wraps, reason = "a filter may also pass an object over")]
fn kept(id: ObjectId, object: &mut Object) -> Option<(ObjectId, Object)> {
    let harmful = object.as_stream().is_ok_and(|s| !is_in_order(s, STRUCTURE.get()));
    let left = if harmful { 0 } else { LEFT.get().saturating_sub(weight(object)) };
    LEFT.set(left);
    if left == 0 {
        resume_unwind(Box::new(TooMuch));
    }
    Some((id, object.clone()))
}

/// What `lopdf` copies of a locked file, in bytes: each object as far as the next `endobj`,
/// before one is read. Objects without an end of their own would be copied many times over.
fn copied_when_locked(bytes: &[u8]) -> usize {
    let mut end = bytes.len();
    let mut copied = bytes.len();
    for at in (0..bytes.len().saturating_sub(2)).rev() {
        if bytes[at..].starts_with(b"obj") {
            if bytes[..at].ends_with(b"end") {
                end = at + 3;
            } else {
                copied = copied.saturating_add(end - at);
            }
        }
    }
    copied
}

/// Whether a file names the key of its trailer that only locked files have, spelled out or in
/// the hexadecimal of names (ISO 32000-1:2008, 7.3.5). In a file that is packed as prints are,
/// no other eight bytes say this.
fn is_locked(bytes: &[u8]) -> bool {
    const KEY: &[u8] = b"Encrypt";
    let digit = |byte: &u8| char::from(*byte).to_digit(16);
    let letter = |rest: &mut &[u8]| -> Option<u8> {
        let (taken, byte) = match *rest {
            [b'#', high, low, ..] => {
                (3, u8::try_from(digit(high)? * 16 + digit(low)?).ok()?)
            }
            [byte, ..] => (1, *byte),
            [] => return None,
        };
        *rest = &rest[taken..];
        Some(byte)
    };
    let starts = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'/');
    starts
        .map(|(at, _)| &bytes[at + 1..])
        .any(|mut rest| KEY.iter().all(|wanted| letter(&mut rest) == Some(*wanted)))
}

/// What an object takes, in bytes. `lopdf` nests none deeper than 100.
fn weight(object: &Object) -> usize {
    let entries = |dict: &lopdf::Dictionary| -> usize {
        dict.iter().map(|(key, value)| key.len() + weight(value)).sum()
    };
    OBJECT
        + match object {
            Object::Array(all) => all.iter().map(weight).sum(),
            Object::Dictionary(dict) => entries(dict),
            Object::Stream(stream) => stream.content.len() + entries(&stream.dict),
            Object::String(text, _) | Object::Name(text) => text.len(),
            _ => 0,
        }
}

/// Whether the objects of a packed run lie one after the other, as they must to be each read
/// once (ISO 32000-1:2008, 7.5.7, asks for pairs of numbers and offsets before `/First`). Any
/// other stream is in order.
fn is_in_order(stream: &Stream, most: usize) -> bool {
    if !stream.dict.has_type(b"ObjStm") {
        return true;
    }
    let first = stream.dict.get(b"First").and_then(Object::as_i64);
    let first = first.ok().and_then(|n| usize::try_from(n).ok());
    // What cannot be unpacked, or has no index, is passed over by `lopdf` too.
    let Ok(content) = stream.get_plain_content_with_limit(most) else { return true };
    let index = first.and_then(|first| content.get(..first));
    let Some(index) = index.and_then(|i| std::str::from_utf8(i).ok()) else {
        return true;
    };
    let offsets: Vec<Option<u32>> =
        index.split_whitespace().skip(1).step_by(2).map(|n| n.parse().ok()).collect();
    let known: Vec<u32> = offsets.into_iter().flatten().collect();
    known.windows(2).all(|pair| pair[0] < pair[1])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lock_is_seen_however_it_is_spelled() {
        for locked in ["<</Encrypt 5 0 R>>", "/#45ncryp#74 9 0 R", "//Encrypt"] {
            assert!(is_locked(locked.as_bytes()), "{locked}");
        }
        for open in ["", "/", "/Encryp", "Encrypt", "/#4", "/#4xncrypt", "/EncodingX"] {
            assert!(!is_locked(open.as_bytes()), "{open}");
        }
    }

    #[test]
    fn a_locked_file_is_copied_no_more_often_than_its_objects_end() {
        assert_eq!(copied_when_locked(b"1 0 obj 2 endobj"), 16 + 12);
        assert_eq!(copied_when_locked(b"1 0 obj 2 0 obj endobj"), 22 + 18 + 10);
        let nested = "1 0 obj ".repeat(2_000);
        assert!(copied_when_locked(nested.as_bytes()) > LIMITS.locked);
    }

    #[test]
    fn patience_ends() {
        let endless = |_: &[u8], _: &Limits| loop {
            thread::park();
        };
        let why = within(Duration::from_millis(20), Vec::new(), LIMITS, endless);
        assert!(why.unwrap_err().contains("to open"));
        let fails = |_: &[u8], _: &Limits| resume_unwind(Box::new("of another kind"));
        let why = within(PATIENCE, Vec::new(), LIMITS, fails);
        assert_eq!(why.unwrap_err(), "it cannot be read");
    }
}
