//! What a file says of the print that it is: name, size, paper, joins, where the tiles lie,
//! and the sheets of other prints that go with it. A later print of another size starts from here.

use crate::export::ExportError;
use crate::fit::{MeasurementUncertainty, RulerClass};
use crate::geom::{
    Extent, Length, Placement, Point, QuarterTurn, Ratio, Sheet as OnSheet,
};
use crate::paginate::{
    Correction, Factor, Gauge, PrintSettings, ReusedSheet, Sheet, SheetSet, Tile,
};
use crate::words::{Language, Units, Wording};
use lopdf::{Dictionary, Document, LoadOptions, Object, decode_text_string, text_string};
use serde::{Deserialize, Serialize};

/// Keys of the document information; ISO 32000-1:2008, 14.3.3 leaves such names free.
const PRINT: &str = "StrapwrightPrint";
const SIZE: &str = "StrapwrightSize";
const PAPER: &str = "StrapwrightPaper";
const JOINS: &str = "StrapwrightJoins";
const SHEETS: &str = "StrapwrightSheets";
const KEPT: &str = "StrapwrightKept";
const CROSSES: &str = "StrapwrightCrosses";
const SETTINGS: &str = "StrapwrightSettings";
const GAUGE: &str = "StrapwrightGauge";

/// Largest file that is read, in bytes, and largest decompressed stream of its structure:
/// far beyond any print.
const MOST_BYTES: usize = 64 << 20;
const MOST_DECOMPRESSED: usize = 4 << 20;
/// Longest entry that is read, in bytes: that of 1 000 sheets.
const LONGEST_ENTRY: usize = 1 << 18;

/// What a file says of itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PrintMetadata {
    /// Short name of the print.
    pub print: String,
    /// What it was drawn with.
    pub settings: PrintSettings,
    /// Label of its stock size; empty where it has none.
    pub size: String,
    /// Name of its paper.
    pub paper: String,
    /// What a ruler finds on a true print; `None` where the file does not say.
    pub gauge: Option<Gauge>,
    /// Its joins: piece and match line, in strap coordinates.
    pub joins: Vec<(usize, Length)>,
    /// All its sheets, bare: those in the file and those that are kept.
    pub sheets: Vec<Sheet>,
    /// The sheets of other prints that complete it.
    pub reused: Vec<ReusedSheet>,
    /// Every cross of a join in the file: its sheet, its place on it, and the strips that it
    /// joins with a letter that tells the two crosses apart, `1 + 2 a`.
    pub crosses: Vec<(usize, Point<OnSheet>, String)>,
}

impl PrintMetadata {
    pub(super) fn new(set: &SheetSet) -> Self {
        Self {
            print: set.fingerprint.clone(),
            settings: set.settings.clone(),
            size: set.size.clone(),
            paper: set.paper.clone(),
            gauge: set.gauge.clone(),
            joins: set.joins.clone(),
            sheets: set.bare().sheets,
            reused: set.reused.clone(),
            crosses: set
                .sheets
                .iter()
                .flat_map(|s| {
                    s.tiles.iter().flat_map(|t| &t.crosses).map(move |c| (s, c))
                })
                .map(|(s, c)| (s.number, c.at, c.label.clone()))
                .collect(),
        }
    }

    /// Puts it among the document information.
    pub(super) fn write(&self, info: &mut Dictionary) {
        let joins = self.joins.iter().map(|(piece, x)| format!("{piece} {}", x.nm()));
        let reused = self.reused.iter().map(|k| format!("{} {}", k.sheet, k.print));
        let crosses = self.crosses.iter();
        let crosses = crosses.map(|(sheet, at, name)| {
            format!("{sheet} {} {} {name}", at.x.nm(), at.y.nm())
        });
        let settings = serde_json::to_string(&Settings::new(&self.settings));
        let gauge = self.gauge.as_ref().and_then(|g| serde_json::to_string(g).ok());
        for (key, words) in [
            (PRINT, self.print.clone()),
            (SETTINGS, settings.unwrap_or_default()),
            (GAUGE, gauge.unwrap_or_default()),
            (SIZE, self.size.clone()),
            (PAPER, self.paper.clone()),
            (JOINS, joins.collect::<Vec<_>>().join("; ")),
            (SHEETS, self.sheets.iter().map(encode).collect::<Vec<_>>().join("; ")),
            (KEPT, reused.collect::<Vec<_>>().join("; ")),
            (CROSSES, crosses.collect::<Vec<_>>().join("; ")),
        ] {
            if !words.is_empty() {
                info.set(key, text_string(&words));
            }
        }
    }

    /// Reads it from the bytes of a file that may be opened: one that is made to do harm is
    /// for the caller to refuse.
    ///
    /// # Errors
    /// [`ExportError::NoMetadata`] when this is no PDF, or one that says nothing of a print.
    pub fn read(bytes: &[u8]) -> Result<Self, ExportError> {
        let foreign = |why: &str| ExportError::NoMetadata(why.to_owned());
        if bytes.len() > MOST_BYTES {
            return Err(foreign("it is larger than any print of strap sheets"));
        }
        let options = LoadOptions::with_max_decompressed_size(MOST_DECOMPRESSED);
        let document = Document::load_mem_with_options(bytes, options)
            .map_err(|_| foreign("it is not a PDF, or not a whole one"))?;
        let info = document
            .trailer
            .get(b"Info")
            .and_then(|info| document.dereference(info))
            .and_then(|(_, info)| info.as_dict())
            .map_err(|_| foreign("it has no document information"))?;
        let entry = |key: &str| {
            let words: &Object = info.get(key.as_bytes()).ok()?;
            decode_text_string(words).ok().filter(|words| words.len() <= LONGEST_ENTRY)
        };
        let print = entry(PRINT)
            .filter(|p| !p.is_empty())
            .ok_or_else(|| foreign("it was not made by strapwright draw or reprint"))?;
        let pairs = |key| -> Vec<(String, String)> {
            let words: String = entry(key).unwrap_or_default();
            let pairs = words.split("; ").filter_map(|pair| pair.split_once(' '));
            pairs.map(|(a, b)| (a.to_owned(), b.to_owned())).collect()
        };
        let joins = pairs(JOINS).into_iter().filter_map(|(piece, x)| {
            Some((piece.parse().ok()?, Length::try_from_nm(x.parse().ok()?)?))
        });
        let reused = pairs(KEPT).into_iter().filter_map(|(sheet, print)| {
            Some(ReusedSheet { print, sheet: sheet.parse().ok()? })
        });
        let crosses = pairs(CROSSES).into_iter().filter_map(|(sheet, rest)| {
            let (x, rest) = rest.split_once(' ')?;
            let (y, name) = rest.split_once(' ')?;
            let [x, y] = [x, y].map(|n| n.parse().ok().and_then(Length::try_from_nm));
            Some((sheet.parse().ok()?, Point::new(x?, y?), name.to_owned()))
        });
        let said = |key| entry(key).unwrap_or_default();
        let settings = serde_json::from_str::<Settings>(&said(SETTINGS));
        let settings = settings.ok().and_then(Settings::settings);
        let gauge = serde_json::from_str(&said(GAUGE)).ok().filter(Gauge::is_sane);
        Ok(Self {
            print,
            settings: settings.unwrap_or_default(),
            size: said(SIZE),
            paper: said(PAPER),
            gauge,
            joins: joins.collect(),
            sheets: said(SHEETS).split("; ").filter_map(decode).collect(),
            reused: reused.collect(),
            crosses: crosses.collect(),
        })
    }

    /// The whole print, bare: its joins, and where its tiles lie.
    pub fn bare(&self) -> SheetSet {
        SheetSet {
            fingerprint: self.print.clone(),
            settings: self.settings.clone(),
            paper: self.paper.clone(),
            size: self.size.clone(),
            reused: self.reused.clone(),
            sheets: self.sheets.clone(),
            joins: self.joins.clone(),
            ..SheetSet::default()
        }
    }
}

/// The settings of a print as they stand in its file; factors in millionths.
#[derive(Serialize, Deserialize)]
struct Settings {
    job: String,
    language: String,
    units: String,
    /// The class of the ruler: 1, 2 or 3.
    ruler: u8,
    reading: Length,
    join: Length,
    printer: Option<PrinterSettings>,
}

/// A printer as it stands in a file: factors and their uncertainties along both edges.
#[derive(Serialize, Deserialize)]
struct PrinterSettings {
    name: String,
    long: [i64; 2],
    short: [i64; 2],
    margin: Length,
    fitted: bool,
}

const RULERS: [RulerClass; 3] = [RulerClass::I, RulerClass::II, RulerClass::III];

impl Settings {
    fn new(settings: &PrintSettings) -> Self {
        let PrintSettings { job, printer, wording, measuring } = settings;
        let units = Units::NAMES.iter().find(|(_, units)| *units == wording.units);
        let ruler = RULERS.iter().zip(1..).find(|(class, _)| **class == measuring.ruler);
        let factor = |f: Factor| [f.by, f.proven].map(Ratio::millionths);
        Self {
            job: job.clone(),
            language: wording.language.code().to_owned(),
            units: units.map_or_else(String::new, |(name, _)| (*name).to_owned()),
            ruler: ruler.map_or(2, |(_, number)| number),
            reading: measuring.reading,
            join: measuring.join,
            printer: printer.as_ref().map(|c| PrinterSettings {
                name: c.printer.clone(),
                long: factor(c.long),
                short: factor(c.short),
                margin: c.margin,
                fitted: c.fitted,
            }),
        }
    }

    /// `None` for what no print has.
    fn settings(self) -> Option<PrintSettings> {
        let (_, units) =
            Units::NAMES.into_iter().find(|(name, _)| *name == self.units)?;
        let language = Language::from_code(&self.language)?;
        let ruler = *RULERS.get(usize::from(self.ruler).checked_sub(1)?)?;
        let Self { reading, join, .. } = self;
        let printer = match self.printer {
            None => None,
            Some(printer) => Some(printer.correction()?),
        };
        Some(PrintSettings {
            job: self.job,
            printer,
            wording: Wording { language, units },
            measuring: MeasurementUncertainty { ruler, reading, join },
        })
    }
}

impl PrinterSettings {
    fn correction(self) -> Option<Correction> {
        // Far more than any printer is off by.
        let factor = |[by, proven]: [i64; 2]| {
            let is_sane =
                (500_000..=2_000_000).contains(&by) && (0..=1_000_000).contains(&proven);
            let [by, proven] = [by, proven].map(Ratio::from_millionths);
            is_sane.then_some(Factor { by, proven })
        };
        Some(Correction {
            printer: self.name,
            long: factor(self.long)?,
            short: factor(self.short)?,
            margin: self.margin,
            fitted: self.fitted,
        })
    }
}

/// Number, width, height and digest; then the piece and both stretches of each tile. Lengths
/// in nanometres.
fn encode(sheet: &Sheet) -> String {
    let mut numbers = vec![
        sheet.number.to_string(),
        sheet.width.nm().to_string(),
        sheet.height.nm().to_string(),
        sheet.digest.cast_signed().to_string(),
    ];
    for tile in &sheet.tiles {
        numbers.push(tile.piece.to_string());
        let ends = [tile.stretch.from, tile.stretch.to, tile.across.from, tile.across.to];
        numbers.extend(ends.map(|end| end.nm().to_string()));
    }
    numbers.join(" ")
}

/// The inverse of [`encode`]; `None` for a text that is no sheet. Where the tiles lie on the
/// sheet is not written.
fn decode(words: &str) -> Option<Sheet> {
    let numbers: Vec<i64> =
        words.split(' ').map(|n| n.parse().ok()).collect::<Option<_>>()?;
    let (&[number, width, height, digest], tiles) = numbers.split_first_chunk()?;
    let tile = |t: &[i64]| {
        let &[piece, from, to, low, high] = t else { return None };
        Some(Tile {
            piece: usize::try_from(piece).ok()?,
            stretch: Extent::new(Length::try_from_nm(from)?, Length::try_from_nm(to)?),
            across: Extent::new(Length::try_from_nm(low)?, Length::try_from_nm(high)?),
            placement: Placement::new(
                QuarterTurn::None,
                Point::new(Length::ZERO, Length::ZERO),
            ),
            crosses: Vec::new(),
        })
    };
    Some(Sheet {
        number: usize::try_from(number).ok()?,
        width: Length::try_from_nm(width)?,
        height: Length::try_from_nm(height)?,
        tiles: tiles.chunks(5).map(tile).collect::<Option<_>>()?,
        digest: digest.cast_unsigned(),
        ..Sheet::default()
    })
}
