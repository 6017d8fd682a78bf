//! x
mod read;
pub fn try_read(bytes: &[u8]) -> String {
    match read::read(bytes) {
        Err(e) => e,
        Ok(p) => {
            let mut out = format!("{:?}\n", p.scaling);
            for page in p.pages {
                out += &format!("{:?} {} {} {:?}\n", page.size, page.lines.len(), page.paths.len(), page.broken);
                for w in page.words { out += &format!("{} @ {:?} {:?}\n", w.text, w.from, w.to); }
                for w in page.paths.iter().filter(|p| p.pen.layer == read::Layer::Punch) { out += &format!("{w:?}\n"); }
            }
            out
        }
    }
}
