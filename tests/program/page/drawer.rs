//! Jobs of the workshop's folder: kept by the page, read by the command line, and the other way.

use super::{BELT, HOST, get_in, post};
use crate::common::program::{folder_with, run};
use axum::http::StatusCode;
use std::fs;

#[test]
fn a_job_is_kept_as_a_person_would_write_it() {
    let text = "# the ferryman's own\ntemplate = \"belt\"\nwearer = \"Tobias Wren\"\n\n\
                [measure]\nvalue = \"34 in\" # over the coat\n";
    let folder = folder_with("ferry.toml", text);
    let own = format!("http://{HOST}");
    let keep = |address: &str, body: &str| post(folder.path(), address, Some(&own), body);
    let shelf = get_in(folder.path(), "/");
    assert!(shelf.text().contains("href=\"/job/ferry\""), "it is on the shelf");
    let view = get_in(folder.path(), "/job/ferry?measure.value=35+in&strap.width=38");
    let seen = view.text().split("name=\"seen\" value=\"").nth(1).unwrap();
    let seen = seen.split('"').next().unwrap();
    let address = "/job/ferry?measure.value=35+in&strap.width=38";
    let kept = keep(address, &format!("name=ferry&seen={seen}"));
    assert_eq!(kept.status, StatusCode::SEE_OTHER);
    assert_eq!(kept.header("location"), "/job/ferry");
    let now = fs::read_to_string(folder.path().join("ferry.toml")).unwrap();
    let wanted = text
        .replace("34 in", "35 in")
        .replace("[measure]", "strap.width = \"38 mm\"\n[measure]");
    assert_eq!(now, wanted);
    assert_eq!(run(folder.path(), &["check", "ferry.toml"]).code, Some(0));
    // It has changed since that text was seen.
    let late = keep(address, &format!("name=ferry&seen={seen}"));
    assert!(
        late.text().contains("Not kept.") && late.text().contains("another ferry.toml")
    );
    assert_eq!(fs::read_to_string(folder.path().join("ferry.toml")).unwrap(), wanted);
    // What it says is not assumed.
    let again = get_in(folder.path(), "/job/ferry");
    assert!(again.text().contains("for Tobias Wren"));
    assert!(!again.text().contains("Mine is 35 in"));
    // A strap of the shelf gets a file of its own.
    assert_eq!(keep(BELT, "name=two+oars&seen=").header("location"), "/job/two+oars");
    assert_eq!(get_in(folder.path(), "/job/two+oars").status, StatusCode::OK);
    for name in ["..%2Fout", "a%2Fb", "", "%20", "a.b"] {
        let refused = keep(BELT, &format!("name={name}&seen="));
        assert!(refused.text().contains("Not kept."), "{name}");
    }
    for path in ["/job/none", "/job/..%2Fferry", "/job/%2e%2e", "/job/ferry.toml"] {
        assert_eq!(get_in(folder.path(), path).status, StatusCode::NOT_FOUND, "{path}");
    }
}

#[test]
fn the_profile_of_the_folder_is_in_force() {
    let profile = "paper = \"letter\"\nunits = \"in\"\n[hardware]\nheel-bar-40 = { \
                   hardware = \"buckle\", bar = \"4.5 mm\", reach = \"29.5 mm\", \
                   tongue = \"4 mm\", inside = \"40 mm\" }\n";
    let folder = folder_with("strapwright.toml", profile);
    let job = "template = \"belt\"\nmeasure.value = \"34 in\"\n\
               buckle.hardware = \"heel-bar-40\"\n";
    fs::write(folder.path().join("ferry.toml"), job).unwrap();
    let view = get_in(folder.path(), "/job/ferry?strap.width=1+1%2F2");
    assert!(view.text().contains("= 38.1 mm, read as in"));
    assert!(view.text().contains("Nothing to mend"));
    let print = get_in(folder.path(), "/job/ferry/print");
    assert!(print.text().contains("sheets Letter"));
}
