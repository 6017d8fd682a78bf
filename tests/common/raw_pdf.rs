//! Files put together by hand, where no writer would write them.

use std::fmt::Write as _;

/// A file with these objects after its catalog, and the last of them so often in its table.
pub(crate) fn listed(objects: &[String], times: usize) -> Vec<u8> {
    let mut file =
        "%PDF-1.7\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n".to_owned();
    let mut table = "0000000000 65535 f \n0000000009 00000 n \n".to_owned();
    for (number, object) in (2..).zip(objects) {
        let entry = format!("{:010} 00000 n \n", file.len());
        let is_last = number == objects.len() + 1;
        table += &entry.repeat(if is_last { times } else { 1 });
        writeln!(file, "{number} 0 obj\n{object}\nendobj").unwrap();
    }
    let (start, size) = (file.len(), table.len() / 20);
    write!(file, "xref\n0 {size}\n{table}trailer\n<</Size {size}/Root 1 0 R>>\n")
        .unwrap();
    writeln!(file, "startxref\n{start}\n%%EOF").unwrap();
    file.into_bytes()
}
