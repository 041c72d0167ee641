//! The last pass over a PDF: what the library leaves open is mended, and what
//! differs from run to run is taken out.

use std::io::Write;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream, StringFormat, dictionary};
use rayon::prelude::*;

use super::info::Info;
use super::points::{POINTS, points};
use super::subset::Hash;
use crate::paper::Sheet;

/// The finished file.
pub(super) fn finish(mut document: Document, sheets: &[Sheet], info: &Info) -> Result<Vec<u8>, String> {
    document.version = "1.7".into();
    let pages: Vec<ObjectId> = document.get_pages().into_values().collect();
    tidy_info(&mut document, info);
    layer_names(&mut document);
    let outline = outline(&mut document, sheets, &pages);
    let catalog = document.catalog_mut().map_err(|e| e.to_string())?;
    catalog.remove(b"Metadata");
    catalog.remove(b"OutputIntents");
    catalog.remove(b"Dests");
    catalog.remove(b"Names");
    catalog.set("PageMode", Object::Name(b"UseOutlines".to_vec()));
    catalog.set("PageLayout", Object::Name(b"SinglePage".to_vec()));
    catalog.set("ViewerPreferences", dictionary! { "PrintScaling" => "None", "DisplayDocTitle" => true });
    catalog.set("Lang", Object::string_literal("en-GB"));
    catalog.set("Outlines", outline);
    document.prune_objects();
    document.renumber_objects();
    compress(&mut document)?;
    let id = identity(&document);
    document.trailer.set("ID", Object::Array(vec![id.clone(), id]));
    let mut bytes = Vec::new();
    document.save_to(&mut bytes).map_err(|e| e.to_string())?;
    Ok(bytes)
}

/// Packs the streams. The library packs as tightly as can be, which takes three
/// times as long for a few per cent.
fn compress(document: &mut Document) -> Result<(), String> {
    let mut streams: Vec<&mut Stream> = document
        .objects
        .values_mut()
        .filter_map(|object| object.as_stream_mut().ok())
        .filter(|stream| !stream.dict.has(b"Filter"))
        .collect();
    streams.par_iter_mut().try_for_each(|stream| pack(stream).map_err(|e| e.to_string()))
}

/// Packs one stream where that makes it smaller.
fn pack(stream: &mut Stream) -> std::io::Result<()> {
    let mut packer = ZlibEncoder::new(Vec::new(), Compression::new(6));
    packer.write_all(&stream.content)?;
    let packed = packer.finish()?;
    // The entry that names the filter has its own length.
    if packed.len() + 19 < stream.content.len() {
        stream.dict.set("Filter", "FlateDecode");
        stream.set_content(packed);
    }
    Ok(())
}

/// A text as PDF wants it where it may hold any character.
fn text(words: &str) -> Object {
    if words.is_ascii() {
        return Object::String(words.as_bytes().to_vec(), StringFormat::Literal);
    }
    let mut data = vec![0xFE, 0xFF];
    data.extend(words.encode_utf16().flat_map(u16::to_be_bytes));
    Object::String(data, StringFormat::Hexadecimal)
}

/// Title, author, subject; no dates.
fn tidy_info(document: &mut Document, info: &Info) {
    let mut entries = Dictionary::new();
    for (key, words) in [("Title", &info.title), ("Author", &info.author), ("Subject", &info.subject)] {
        if !words.is_empty() {
            entries.set(key, text(words));
        }
    }
    entries.set("Creator", text("rodwright"));
    entries.set("Producer", text("rodwright"));
    let id = document.add_object(entries);
    document.trailer.set("Info", id);
}

/// Layer names in UTF-16 where they are not plain.
fn layer_names(document: &mut Document) {
    for object in document.objects.values_mut() {
        if let Ok(entry) = object.as_dict_mut()
            && entry.get(b"Type").and_then(Object::as_name).is_ok_and(|n| n == b"OCG")
            && let Ok(Object::String(data, _)) = entry.get(b"Name")
        {
            let words = String::from_utf8_lossy(data).into_owned();
            entry.set("Name", text(&words));
        }
    }
}

/// A line of the outline: its object and what it holds.
type Entry = (ObjectId, Dictionary);

/// The tree of bookmarks: a line for each sheet, its own lines below it.
fn outline(document: &mut Document, sheets: &[Sheet], pages: &[ObjectId]) -> ObjectId {
    let root = document.new_object_id();
    let mut tops: Vec<(Entry, Vec<Entry>)> = Vec::new();
    for (sheet, page) in sheets.iter().zip(pages) {
        let id = document.new_object_id();
        let whole = dictionary! {
            "Title" => text(&format!("{}  {}", sheet.number, sheet.title)),
            "Parent" => root,
            "Dest" => vec![Object::Reference(*page), Object::Name(b"Fit".to_vec())],
        };
        let mut below = Vec::new();
        for (words, at) in &sheet.bookmarks {
            let top = (sheet.height - at.y) * POINTS;
            let entry = dictionary! {
                "Title" => text(words),
                "Parent" => id,
                "Dest" => vec![
                    Object::Reference(*page),
                    Object::Name(b"FitH".to_vec()),
                    Object::Real(points(top)),
                ],
            };
            below.push((document.new_object_id(), entry));
        }
        tops.push(((id, whole), below));
    }
    let mut list = Vec::new();
    for ((id, mut entry), below) in tops {
        if let (Some(first), Some(last)) = (below.first(), below.last()) {
            entry.set("First", first.0);
            entry.set("Last", last.0);
            // Closed until opened: a negative count.
            entry.set("Count", -i64::try_from(below.len()).unwrap_or(0));
        }
        chain(document, below);
        list.push((id, entry));
    }
    let mut whole = dictionary! { "Type" => "Outlines" };
    if let (Some(first), Some(last)) = (list.first(), list.last()) {
        whole.set("First", first.0);
        whole.set("Last", last.0);
        whole.set("Count", i64::try_from(list.len()).unwrap_or(0));
    }
    chain(document, list);
    document.objects.insert(root, Object::Dictionary(whole));
    root
}

/// Links entries to their neighbours and stores them.
fn chain(document: &mut Document, list: Vec<Entry>) {
    let ids: Vec<ObjectId> = list.iter().map(|(id, _)| *id).collect();
    for (i, (id, mut entry)) in list.into_iter().enumerate() {
        if i > 0 {
            entry.set("Prev", ids[i - 1]);
        }
        if let Some(next) = ids.get(i + 1) {
            entry.set("Next", *next);
        }
        document.objects.insert(id, Object::Dictionary(entry));
    }
}

/// The file identifier: a checksum of the contents, so that equal sets have
/// equal identifiers.
fn identity(document: &Document) -> Object {
    let mut sums = [Hash::new(1), Hash::new(2)];
    for (id, object) in &document.objects {
        for sum in &mut sums {
            sum.add(&id.0.to_be_bytes());
            match object {
                Object::Stream(stream) => sum.add(&stream.content),
                other => sum.add(format!("{other:?}").as_bytes()),
            }
        }
    }
    let bytes = sums.iter().flat_map(|s| s.0.to_be_bytes()).collect();
    Object::String(bytes, StringFormat::Hexadecimal)
}
