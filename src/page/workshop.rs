//! The workshop's folder: templates of its own and printer files, the same that the command line
//! reads and writes. Only names that are listed are read, so no name leads out of it.

use super::assets::hash;
use super::say::{say, say_with};
use crate::batch::is_device;
use crate::diagnostic::{self, Finding, Sources, Style, forbids_print};
use crate::disk::template_loader::FileLoader;
use crate::disk::workshop::Search;
use crate::disk::{draft, files};
use crate::input;
use crate::printer::{self, ParsedPrinter};
use crate::profile::Profile;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError, RwLock};
use std::time::SystemTime;

/// Most job files that are looked at: the newest.
const MOST_JOBS: usize = 200;
/// What would do where a file cannot be written.
pub(super) const WAY: &str = "choose another name, or start the page in another folder";
/// What an address says in place of a printer where none is to be corrected.
pub(super) const NO_PRINTER: &str = "-";

/// Held while a file is written: one after the other.
pub(super) static WRITING: Mutex<()> = Mutex::new(());

/// What tells whether a file was changed: its time and its length; `None` where there is none.
type Stamp = Option<(Option<SystemTime>, u64)>;

fn stamp(path: &Path) -> Stamp {
    let metadata = std::fs::metadata(path).ok()?;
    Some((metadata.modified().ok(), metadata.len()))
}

/// The TOML files of a folder, the newest first, each with its name without the ending. A link
/// is none: it may lead out of the folder.
fn texts(folder: &Path) -> Vec<(String, PathBuf)> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let mut all: Vec<_> = entries
        .filter(|entry| entry.file_type().is_ok_and(|kind| kind.is_file()))
        .filter_map(|entry| {
            let path = entry.path();
            let name = path.file_stem()?.to_str()?.to_owned();
            let is_toml = path.extension().is_some_and(|e| e == "toml");
            let age = entry.metadata().and_then(|m| m.modified()).ok();
            (is_toml && !is_profile(&name)).then_some((age, name, path))
        })
        .collect();
    all.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    all.into_iter().map(|(_, name, path)| (name, path)).collect()
}

/// Whether a file of that name is the profile, where upper and lower case count as the same too.
fn is_profile(name: &str) -> bool {
    name.eq_ignore_ascii_case("strapwright")
}

/// The text of a job file; `None` for any other file.
fn job_text(path: &Path) -> Option<String> {
    let text = files::read(path.as_os_str()).ok()?.text;
    let is_job = input::parse_valid(&text, 0).leaf("template").is_some();
    is_job.then(|| text.into_owned())
}

/// Checks that a name can be that of a file in the folder, on every system, and is not that of
/// the profile.
pub(super) fn check_name(name: &str) -> Result<(), String> {
    let is_plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_' || c == ' ';
    let is_name = name.chars().all(is_plain)
        && name.starts_with(char::is_alphanumeric)
        && name.trim() == name
        && printer::is_name(name);
    let shown: String = name.chars().take(60).collect();
    if !is_name {
        return Err(say_with(
            "A name has up to 60 letters, digits, spaces and hyphens, and begins with a letter or \
             a digit, unlike “{ $name }”.",
            &[("name", &shown)],
        ));
    }
    let is_strips = name.eq_ignore_ascii_case("strips");
    if is_device(&name.to_lowercase()) || is_profile(name) || is_strips {
        return Err(say_with(
            "“{ $name }” is kept for the system or for the workshop. Choose another name.",
            &[("name", &shown)],
        ));
    }
    Ok(())
}

/// The folder that the page works in, and what it finds there.
#[derive(Debug)]
pub struct Workshop {
    pub(super) loader: FileLoader,
    /// What `strapwright.toml` says.
    pub(super) profile: Profile,
    notes: String,
    /// Where job files lie.
    pub(super) folder: PathBuf,
    /// Where printer files lie.
    printers: PathBuf,
    /// The printer file that the profile names.
    printer: Option<PathBuf>,
    /// The profiles, the folders of templates and what lies in them.
    decides: Vec<PathBuf>,
    /// Their stamps when the workshop was opened.
    stamps: Vec<Stamp>,
    /// The stamps with which it could not be opened anew, and why.
    broken: Mutex<Option<(Vec<Stamp>, String)>>,
}

impl Workshop {
    /// The workshop in a folder, with its profile. Its templates lie where that says, else in
    /// `templates`, its printer files in `printers`, where there are such folders.
    ///
    /// # Errors
    /// When profile or templates cannot be read, in words.
    pub fn open(folder: PathBuf) -> Result<Self, String> {
        let own_templates = folder.join("templates");
        let templates = Some(own_templates.clone()).filter(|path| path.is_dir());
        let printers = folder.join("printers");
        let search = Search {
            folder: &folder,
            templates: None,
            else_templates: templates,
            profile: None,
            no_profile: false,
        };
        let mut decides = search.files();
        decides.push(own_templates);
        // Before they are read: what is changed meanwhile counts as changed.
        let stamps: Vec<Stamp> = decides.iter().map(|path| stamp(path)).collect();
        let opened = search.open().map_err(|why| why.to_string())?;
        let printer = opened.printer();
        let (loader, profile) = (opened.loader, opened.profile);
        decides.extend(loader.folder().map(Path::to_owned));
        decides.extend(loader.files());
        let all = (&profile.findings, &profile.sources);
        let notes = diagnostic::text(all.0, all.1, Style::Plain);
        if forbids_print(&profile.findings) {
            return Err(format!("the profile has mistakes\n{notes}"));
        }
        let later = decides.iter().skip(stamps.len()).map(|path| stamp(path));
        let stamps = stamps.iter().copied().chain(later).collect();
        let broken = Mutex::default();
        Ok(Self {
            loader,
            profile,
            notes,
            folder,
            printers,
            printer,
            decides,
            stamps,
            broken,
        })
    }

    /// The workshop as it is now, where its profile or its templates were changed; else `None`.
    ///
    /// # Errors
    /// Those of [`open`](Self::open).
    pub(super) fn changed(&self) -> Option<Result<Self, String>> {
        let now: Vec<Stamp> = self.decides.iter().map(|path| stamp(path)).collect();
        if now == self.stamps {
            return None;
        }
        let mut broken = self.broken.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, why)) = broken.as_ref().filter(|(stamps, _)| *stamps == now) {
            return Some(Err(why.clone()));
        }
        let again = Self::open(self.folder.clone());
        *broken = again.as_ref().err().map(|why| (now, why.clone()));
        Some(again)
    }

    /// What was found in the profile, as text.
    pub fn notes(&self) -> &str {
        &self.notes
    }

    /// The names of the printers, in order.
    pub(super) fn printers(&self) -> Vec<String> {
        let all = texts(&self.printers).into_iter();
        let mut names: Vec<String> = all.map(|(name, _)| name).collect();
        names.sort();
        names
    }

    /// The names of the job files, the newest first.
    pub(super) fn jobs(&self) -> Vec<String> {
        let newest = texts(&self.folder).into_iter().take(MOST_JOBS);
        let jobs = newest.filter(|(_, path)| job_text(path).is_some());
        jobs.map(|(name, _)| name).collect()
    }

    /// The list of strips of the workshop: `strips.csv`, else `strips.toml`; empty without one.
    pub(super) fn strips(&self) -> String {
        let read = |name: &str| {
            let path = self.folder.join(name);
            let is_file = path.symlink_metadata().is_ok_and(|there| there.is_file());
            is_file.then(|| files::read(path.as_os_str()).ok()).flatten()
        };
        let file = read("strips.csv").or_else(|| read("strips.toml"));
        file.map(|file| file.text.into_owned()).unwrap_or_default()
    }

    /// The text of a job file that is there.
    pub(super) fn job_text(&self, name: &str) -> Option<String> {
        let all = texts(&self.folder);
        job_text(&all.iter().find(|(listed, _)| listed == name)?.1)
    }

    /// Writes a job file. `seen` is the text that it had when it was opened, by its hash.
    ///
    /// # Errors
    /// In words, when the name cannot be that of a file, there is another text by now, or the
    /// file cannot be written.
    pub(super) fn keep_job(
        &self,
        name: &str,
        seen: &str,
        text: &str,
    ) -> Result<(), String> {
        check_name(name)?;
        let _turn = WRITING.lock().unwrap_or_else(PoisonError::into_inner);
        let path = self.folder.join(format!("{name}.toml"));
        let old = self.job_text(name);
        // A link that leads nowhere is there too.
        let is_there = || path.symlink_metadata().is_ok();
        if old.as_ref().map_or_else(is_there, |old| hash(old) != seen) {
            return Err(say_with(
                "There is another { $name }.toml, or it has changed since you opened it. Choose \
                 another name, or open it again.",
                &[("name", &name)],
            ));
        }
        draft::write_or(&path, text.as_bytes(), old.is_some(), WAY)
            .map_err(|why| why.to_string())
    }

    fn printer_file(&self, name: &str) -> PathBuf {
        self.printers.join(format!("{name}.toml"))
    }

    /// The text of a printer file that is there.
    pub(super) fn printer_text(&self, name: &str) -> Option<String> {
        let all = texts(&self.printers);
        let (_, path) = all.iter().find(|(listed, _)| listed == name)?;
        Some(files::read(path.as_os_str()).ok()?.text.into_owned())
    }

    /// A printer by its name; that of the profile for no name. A file that is not there or has a
    /// mistake is an error, so that nothing is printed without its correction.
    pub(super) fn printer(&self, name: &str) -> ParsedPrinter {
        let is_listed = || self.printers().iter().any(|listed| listed == name);
        let path = match name {
            NO_PRINTER => None,
            "" => self.printer.clone(),
            name => Some(self.printer_file(name)).filter(|_| is_listed()),
        };
        let text = path.as_ref().map(|path| files::read(path.as_os_str()));
        let why = match text {
            Some(Ok(file)) => {
                return printer::read(&mut Sources::default(), &file.name, &file.text);
            }
            Some(Err(why)) => why.to_string(),
            None if ["", NO_PRINTER].contains(&name) => {
                return ParsedPrinter { printer: None, findings: Vec::new() };
            }
            None => "there is no printer of that name".to_owned(),
        };
        let finding = Finding::error(printer::rule::PRINTER_SYNTAX, why)
            .remedy("choose another printer, or check this one again and keep it");
        ParsedPrinter { printer: None, findings: vec![finding] }
    }

    /// Writes a printer file: `change` gets the text that is there, if any, and gives the new
    /// one. What is written reads back, or nothing is written.
    ///
    /// # Errors
    /// In words, when the name cannot be that of a file, `change` refuses, or the file cannot
    /// be written.
    pub(super) fn keep_printer(
        &self,
        name: &str,
        change: impl FnOnce(Option<String>) -> Result<String, String>,
    ) -> Result<(), String> {
        check_name(name)?;
        let _turn = WRITING.lock().unwrap_or_else(PoisonError::into_inner);
        let path = self.printer_file(name);
        let is_there = path.symlink_metadata().is_ok();
        let is_listed = self.printers().iter().any(|listed| listed == name);
        if is_there && !is_listed {
            return Err(say_with(
                "{ $name }.toml is a link or no file. Choose another name.",
                &[("name", &name)],
            ));
        }
        let old = is_there.then(|| files::read(path.as_os_str())).transpose();
        let text = change(
            old.map_err(|why| why.to_string())?.map(|file| file.text.into_owned()),
        )?;
        if printer::read(&mut Sources::default(), name, &text).printer.is_none() {
            return Err(say("These readings cannot be kept: they do not read back."));
        }
        files::create_folder(&self.printers, WAY).map_err(|why| why.to_string())?;
        draft::write_or(&path, text.as_bytes(), is_there, WAY)
            .map_err(|why| why.to_string())
    }
}

/// The workshop of a page that is served, as it is at each request.
pub(super) struct Current(RwLock<Arc<Workshop>>);

impl Current {
    pub(super) fn new(workshop: Workshop) -> Self {
        Self(RwLock::new(Arc::new(workshop)))
    }

    /// The workshop as it is now. A profile with mistakes does not come in force: the drawer
    /// says so.
    pub(super) fn now(&self) -> Arc<Workshop> {
        let known = Arc::clone(&self.0.read().unwrap_or_else(PoisonError::into_inner));
        let Some(Ok(changed)) = known.changed() else { return known };
        let changed = Arc::new(changed);
        let mut current = self.0.write().unwrap_or_else(PoisonError::into_inner);
        *current = Arc::clone(&changed);
        changed
    }
}
