//! Jobs of the workshop's folder: kept by the page, read by the command line, and the other way.

use super::{BELT, HOST, Page, get_in, links, orders, post};
use crate::common::program::{folder_with, run};
use axum::http::StatusCode;
use std::fs;
use std::time::{Duration, SystemTime};

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
    let wanted = text.replace("34 in", "35 in") + "\n[strap]\nwidth = \"38 mm\"\n";
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
    for name in [
        "..%2Fout",
        "a%2Fb",
        "",
        "%20",
        "a.b",
        "-",
        "strapwright",
        "Con",
        "lpt1",
        "Strips",
    ] {
        let refused = keep(BELT, &format!("name={name}&seen="));
        assert!(refused.text().contains("Not kept."), "{name}");
    }
    fs::write(folder.path().join("strapwright.toml"), "paper = \"a4\"\n").unwrap();
    fs::write(folder.path().join("desk.toml"), "name = \"desk\"\n").unwrap();
    for name in ["none", "..%2Fferry", "%2e%2e", "ferry.toml", "strapwright", "desk"] {
        let path = format!("/job/{name}");
        assert_eq!(get_in(folder.path(), &path).status, StatusCode::NOT_FOUND, "{path}");
    }
}

/// What is kept is the strap of the page, or nothing is written.
#[test]
fn a_kept_job_reads_back() {
    let line = "template = \"belt\"\nstrap = { width = \"38 mm\" }\n";
    let lines = "template = \"belt\"\nwearer = \"\"\"\n[boat] Wren\"\"\"\n";
    let broken = "template = \"belt\"\nstrap = {\n";
    for (text, is_kept) in [(line, true), (lines, true), (broken, false)] {
        let folder = folder_with("ferry.toml", text);
        let address = "/job/ferry?strap.thickness=3+mm";
        let view = get_in(folder.path(), address);
        let seen = view.text().split("name=\"seen\" value=\"").nth(1).unwrap();
        let sent = format!("name=ferry&seen={}", seen.split('"').next().unwrap());
        let own = format!("http://{HOST}");
        let kept = post(folder.path(), address, Some(&own), &sent);
        assert_eq!(kept.status == StatusCode::SEE_OTHER, is_kept, "{}", kept.text());
        let now = fs::read_to_string(folder.path().join("ferry.toml")).unwrap();
        assert_eq!(now != text, is_kept);
        let is_drawn = strapwright::prepare("ferry.toml", &now, &[]).laid.is_some();
        assert_eq!(is_drawn, is_kept, "{now}");
    }
}

/// However many other files there are, the newest job is on the shelf.
#[test]
fn a_job_is_found_among_many_files() {
    let folder = folder_with("ferry.toml", "template = \"belt\"\n");
    let long_ago = SystemTime::UNIX_EPOCH + Duration::from_secs(1_000_000_000);
    for n in 0..250 {
        let file = fs::File::create(folder.path().join(format!("{n}.toml"))).unwrap();
        file.set_modified(long_ago).unwrap();
    }
    assert!(get_in(folder.path(), "/").text().contains("href=\"/job/ferry\""));
}

/// A link may lead out of the folder: it is neither read nor written through.
#[cfg(unix)]
#[test]
fn links_are_not_followed() {
    use std::os::unix::fs::symlink;
    let outside = folder_with("secret.toml", "template = \"belt\"\n");
    let folder = tempfile::tempdir().unwrap();
    symlink(outside.path().join("secret.toml"), folder.path().join("inner.toml"))
        .unwrap();
    symlink(outside.path().join("new.toml"), folder.path().join("empty.toml")).unwrap();
    assert_eq!(get_in(folder.path(), "/job/inner").status, StatusCode::NOT_FOUND);
    let own = format!("http://{HOST}");
    for name in ["inner", "empty"] {
        let kept = post(folder.path(), BELT, Some(&own), &format!("name={name}&seen="));
        assert!(kept.text().contains("Not kept."), "{name}");
    }
    assert!(!outside.path().join("new.toml").exists());
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
    assert!(view.text().contains("= 1 1/2 in, read as in"));
    assert!(view.text().contains("Nothing to mend"));
    let print = get_in(folder.path(), "/job/ferry/print");
    assert!(print.text().contains("sheets Letter"));
    // The fields show the measures of the buckle that is named, and a form says none of them.
    let field = "name=\"buckle.reach\" value=\"29.5 mm\" class=\"\"";
    assert!(view.text().contains(field), "{}", view.text());
    let bare = get_in(folder.path(), "/strap/belt?buckle.bar=6+mm");
    let named = links(bare.text(), "href=\"").find(|link| link.contains("heel-bar-40"));
    let named = named.unwrap();
    assert_eq!(named, "/strap/belt?buckle.hardware=heel-bar-40");
    assert!(get_in(folder.path(), &named).text().contains(field));
    let sent = format!("{named}&form=1&said=buckle.hardware&buckle.reach=29.5+mm");
    assert_eq!(get_in(folder.path(), &sent).header("location"), named);
    let file = get_in(folder.path(), &named.replace('?', "/job.toml?"));
    assert!(file.text().contains("[buckle]\nhardware = \"heel-bar-40\"\n"));
    // A form keeps what was said and has no field.
    let hidden = "type=\"hidden\" name=\"buckle.hardware\" value=\"heel-bar-40\"";
    assert!(get_in(folder.path(), &named).text().contains(hidden));
}

#[test]
fn leather_of_the_profile_is_chosen_and_fills_in_its_thickness() {
    let profile = "[leather.shoulder]\nthickness = \"3.2 mm\"\nnote = \"rack 2\"\n\
                   [leather.butt]\nthickness = \"4 mm\"\n";
    let folder = folder_with("strapwright.toml", profile);
    let job =
        "template = \"belt\"\nmeasure.value = \"34 in\"\nstrap.leather = \"shoulder\"\n";
    fs::write(folder.path().join("ferry.toml"), job).unwrap();
    let thick = |value: &str| format!("name=\"strap.thickness\" value=\"{value}\"");
    let view = get_in(folder.path(), "/job/ferry?strap.width=38+mm&strap.thickness=3+mm");
    let butt = links(view.text(), "href=\"").find(|link| link.contains("butt")).unwrap();
    assert_eq!(butt, "/job/ferry?strap.width=38+mm&strap.leather=butt");
    assert!(get_in(folder.path(), &butt).text().contains(&thick("4 mm")));
    assert!(get_in(folder.path(), "/job/ferry").text().contains(&thick("3.2 mm")));
    // Its files are called as the job is, not as its title.
    let file = get_in(folder.path(), "/job/ferry/sheets.pdf");
    assert!(file.header("content-disposition").ends_with("ferry.pdf"));
}

/// The drawer lists the files of the folder, and hands out no other.
#[test]
fn the_drawer_has_the_files_of_the_folder() {
    let profile = "[leather.shoulder]\nthickness = \"3.2 mm\"\nnote = \"rack 2\"\n";
    let folder = folder_with("strapwright.toml", profile);
    assert_eq!(get_in(folder.path(), "/drawer").text().matches("None yet.").count(), 3);
    fs::write(folder.path().join("two oars.toml"), "template = \"belt\"\n").unwrap();
    fs::create_dir(folder.path().join("printers")).unwrap();
    fs::write(folder.path().join("printers/desk.toml"), "name = \"desk\"\n").unwrap();
    let drawer = get_in(folder.path(), "/drawer");
    for part in ["href=\"/job/two+oars\"", "Thickness 3.2 mm", "rack 2"] {
        assert!(drawer.text().contains(part), "{part}");
    }
    let file =
        links(drawer.text(), "href=\"").find(|link| link.contains("desk")).unwrap();
    assert_eq!(get_in(folder.path(), &file).text(), "name = \"desk\"\n");
    for other in ["strapwright", "two+oars", "..%2Fstrapwright", "%2e%2e"] {
        let path = format!("/drawer/{other}");
        assert_eq!(get_in(folder.path(), &path).status, StatusCode::NOT_FOUND, "{path}");
    }
}

/// Hardware and leather that were measured once are there for every strap, on the command line too.
#[test]
fn hardware_and_leather_are_kept_by_name() {
    let text = "paper = \"a4\" # on the shelf\n";
    let folder = folder_with("strapwright.toml", text);
    let own = format!("http://{HOST}");
    let address = "/strap/belt?measure.value=34+in&buckle.bar=4.5+mm&buckle.inside=40";
    let keep = |body: &str| post(folder.path(), address, Some(&own), body);
    let kept = keep("table=buckle&name=bosun+40");
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.text());
    let there = kept.header("location");
    assert_eq!(there, "/strap/belt?measure.value=34+in&buckle.hardware=bosun+40");
    let leather = keep("table=strap&name=harness+butt");
    assert_eq!(leather.status, StatusCode::SEE_OTHER, "{}", leather.text());
    let now = fs::read_to_string(folder.path().join("strapwright.toml")).unwrap();
    assert!(now.starts_with(text), "{now}");
    for line in [
        "[hardware.\"bosun 40\"]\nhardware = \"buckle\"\nbar = \"4.5 mm\"\n",
        "inside = \"40 mm\"\n",
        "[leather.\"harness butt\"]\nthickness = ",
    ] {
        assert!(now.contains(line), "{now}");
    }
    // The page and the command draw with it.
    let view = get_in(folder.path(), there);
    assert!(view.text().contains("aria-current=\"true\">Bosun 40"), "it is chosen");
    assert!(get_in(folder.path(), "/drawer").text().contains("Harness butt"));
    let job = "template = \"belt\"\nmeasure.value = \"34 in\"\nbuckle.hardware = \"bosun 40\"\n\
               strap.leather = \"harness butt\"\n";
    fs::write(folder.path().join("job.toml"), job).unwrap();
    assert_eq!(run(folder.path(), &["check", "job.toml"]).code, Some(0));
    // Counts are kept too; what was typed and cannot be kept is not lost.
    let two = "/strap/two-prong-belt?measure.value=34+in";
    let prongs = post(folder.path(), two, Some(&own), "table=buckle&name=twin");
    assert_eq!(prongs.status, StatusCode::SEE_OTHER, "{}", prongs.text());
    let sum = "/strap/belt?measure.value=34+in&buckle.bar=4+mm+%2B+0.5+mm";
    let refused = post(folder.path(), sum, Some(&own), "table=buckle&name=sum");
    assert!(refused.text().contains("“Buckle bar” is no plain length"));
    assert!(refused.text().contains("name=\"name\" autocomplete=\"off\" value=\"sum\""));
    let now = fs::read_to_string(folder.path().join("strapwright.toml")).unwrap();
    assert!(now.contains("tongues = 2\n") && !now.contains("sum"), "{now}");
    // What stops the print is not kept as if it had been measured.
    let unknown = "/strap/belt?measure.value=34+in&buckle.hardware=nope";
    let refused = post(folder.path(), unknown, Some(&own), "table=buckle&name=some");
    assert!(refused.text().contains("Not kept."));
    // Nothing is overwritten, and no other table is hardware.
    for body in [
        "table=buckle&name=bosun+40",
        "table=buckle&name=buckle",
        "table=buckle&name=..%2Fa",
        "table=buckle&name=",
        "table=size-holes&name=five",
        "table=measure&name=mine",
        "table=none&name=mine",
    ] {
        let refused = keep(body);
        assert!(refused.text().contains("Not kept."), "{body}");
    }
    let after = fs::read_to_string(folder.path().join("strapwright.toml")).unwrap();
    assert_eq!(after, now);
    // A profile here would hide the one above.
    let inner = folder.path().join("inner");
    fs::create_dir(&inner).unwrap();
    let refused = post(&inner, address, Some(&own), "table=buckle&name=other");
    assert!(refused.text().contains("outside of this folder"));
    assert!(!inner.join("strapwright.toml").exists());
    // A workshop without a profile gets one.
    let bare = tempfile::tempdir().unwrap();
    let first = post(bare.path(), address, Some(&own), "table=buckle&name=bosun");
    assert_eq!(first.status, StatusCode::SEE_OTHER, "{}", first.text());
    let new = fs::read_to_string(bare.path().join("strapwright.toml")).unwrap();
    assert!(new.starts_with("[hardware.bosun]\n"), "{new}");
}

/// What is changed in an editor is in force at the next view; a mistake is said in the drawer.
#[test]
fn a_changed_profile_is_in_force_at_once() {
    let folder = folder_with("strapwright.toml", "units = \"mm\"\n");
    let profile = folder.path().join("strapwright.toml");
    let page = Page::new(folder.path());
    assert!(page.get("/strap/belt/print").contains("<option value=\"mm\" selected>"));
    let write = |text: &str, day: u64| {
        fs::write(&profile, text).unwrap();
        let time = SystemTime::now() + Duration::from_secs(86_400 * day);
        fs::File::options()
            .append(true)
            .open(&profile)
            .unwrap()
            .set_modified(time)
            .unwrap();
    };
    write("units = \"in\"\n", 1);
    assert!(page.get("/strap/belt/print").contains("<option value=\"in\" selected>"));
    write("units = \"ell\"\n", 2);
    assert!(page.get("/strap/belt/print").contains("<option value=\"in\" selected>"));
    assert!(page.get("/drawer").contains("ell"));
}

/// A template of one's own is found by its link on the shelf, however it is spelt.
#[test]
fn own_templates_are_found_whatever_their_names() {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("templates")).unwrap();
    let own = folder.path().join("templates/übung & co.toml");
    fs::write(own, "template = \"belt\"\n").unwrap();
    let shelf = get_in(folder.path(), "/");
    let link =
        links(shelf.text(), "href=\"").find(|link| link.contains("%C3%BC")).unwrap();
    assert_eq!(get_in(folder.path(), &link).status, StatusCode::OK, "{link}");
    // What is wrong with a thing of the profile is said where it is listed.
    let wrong = "[leather.x]\nthickness = \"abc\"\n";
    fs::write(folder.path().join("strapwright.toml"), wrong).unwrap();
    assert!(get_in(folder.path(), "/drawer").text().contains("class=\"finding stop\""));
    // One that begins with another letter than ours stops no order.
    let table = "order,template,measure.value\n1,Gürtel,90 cm\n";
    assert!(orders::send(folder.path(), table, &[]).text().contains("1 is ready"));
}
