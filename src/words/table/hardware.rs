//! The hardware, with posts for what each goes through.

use super::{Word, phrases};

phrases! {
    /// Heading of the hardware.
    Hardware: "Hardware", "Beschläge", "Quincaillerie", "Herrajes", "Minuteria", "Okucia";
    /// {0}: how many, {1}: hole, {2}: stack, {3}: least post, {4}: longest post.
    Fasteners:
        "{0} × fastener, hole Ø {1}, stack {2}: rivet post {3} to {4}, screw post just under {2}",
        "{0} × Niete, Loch Ø {1}, Gesamtstärke {2}: Nietschaft {3} bis {4}, Buchschraube knapp unter {2}",
        "{0} × rivet, trou Ø {1}, épaisseur {2}\u{a0}: tige de {3} à {4}, vis de reliure un peu moins de {2}",
        "{0} × remache, agujero Ø {1}, grosor {2}: vástago de {3} a {4}, tornillo de unión algo menos de {2}",
        "{0} × rivetto, foro Ø {1}, spessore {2}: gambo da {3} a {4}, vite a colonna poco meno di {2}",
        "{0} × nit, otwór Ø {1}, warstwy {2}: trzpień od {3} do {4}, śruba kaletnicza nieco poniżej {2}";
    /// Rivets. {0}: how many, {1}: hole, {2}: stack, {3}: least post, {4}: longest post.
    Rivets:
        "{0} × rivet, hole Ø {1}, stack {2}: post {3} to {4}",
        "{0} × Niete, Loch Ø {1}, Gesamtstärke {2}: Schaft {3} bis {4}",
        "{0} × rivet, trou Ø {1}, épaisseur {2}\u{a0}: tige de {3} à {4}",
        "{0} × remache, agujero Ø {1}, grosor {2}: vástago de {3} a {4}",
        "{0} × rivetto, foro Ø {1}, spessore {2}: gambo da {3} a {4}",
        "{0} × nit, otwór Ø {1}, warstwy {2}: trzpień od {3} do {4}";
    /// Screw posts. {0}: how many, {1}: hole, {2}: stack.
    ScrewPosts:
        "{0} × screw post, hole Ø {1}, stack {2}: post just under {2}",
        "{0} × Buchschraube, Loch Ø {1}, Gesamtstärke {2}: Schaft knapp unter {2}",
        "{0} × vis de reliure, trou Ø {1}, épaisseur {2}\u{a0}: tige un peu moins de {2}",
        "{0} × tornillo de unión, agujero Ø {1}, grosor {2}: vástago algo menos de {2}",
        "{0} × vite a colonna, foro Ø {1}, spessore {2}: gambo poco meno di {2}",
        "{0} × śruba kaletnicza, otwór Ø {1}, warstwy {2}: trzpień nieco poniżej {2}";
    /// Laces. {0}: how many, {1}: thickness.
    Laces:
        "{0} × lace, {1} thick", "{0} × Schnürband, {1} stark", "{0} × lacet, épaisseur {1}",
        "{0} × cordón, grosor {1}", "{0} × laccio, spessore {1}", "{0} × rzemyk, grubość {1}";
    /// How long a lace is. {0}: the line, {1}: its length.
    LaceLength:
        "{0}, about {1} long", "{0}, etwa {1} lang", "{0}, longueur {1} environ",
        "{0}, largo {1} aprox.", "{0}, lungo circa {1}", "{0}, długość około {1}";
    /// A fastener whose post the job gives. {0}: the line, {1}: the post.
    PostGiven:
        "{0}; post on hand {1}", "{0}; vorhandener Schaft {1}", "{0}\u{a0}; tige disponible {1}",
        "{0}; vástago disponible {1}", "{0}; gambo disponibile {1}",
        "{0}; posiadany trzpień {1}";
    /// Fasteners that hold something to the strap. {0}: how many, {1}: hole, {2}: leather.
    FastenersOn:
        "{0} × fastener or stud, hole Ø {1}, through {2} and what it holds",
        "{0} × Niete oder Knopf, Loch Ø {1}, durch {2} und was daran hängt",
        "{0} × rivet ou bouton, trou Ø {1}, à travers {2} et ce qu’il tient",
        "{0} × remache o botón, agujero Ø {1}, a través de {2} y lo que sujeta",
        "{0} × rivetto o bottone, foro Ø {1}, attraverso {2} e ciò che tiene",
        "{0} × nit lub guzik, otwór Ø {1}, przez {2} i to, co mocuje";
    /// What button holes close on. {0}: how many, {1}: hole, {2}: leather.
    Studs:
        "{0} × stud or button, neck Ø {1}, through {2}",
        "{0} × Knopf, Hals Ø {1}, durch {2}",
        "{0} × bouton, col Ø {1}, à travers {2}",
        "{0} × botón, cuello Ø {1}, a través de {2}",
        "{0} × bottone, collo Ø {1}, attraverso {2}",
        "{0} × guzik, szyjka Ø {1}, przez {2}";
    /// {0}: how many, {1}: hole, {2}: leather, {3}: face.
    Fittings:
        "{0} × fitting {3}, hole Ø {1}, through {2}",
        "{0} × Zierteil {3}, Loch Ø {1}, durch {2}",
        "{0} × garniture {3}, trou Ø {1}, à travers {2}",
        "{0} × adorno {3}, agujero Ø {1}, a través de {2}",
        "{0} × borchia {3}, foro Ø {1}, attraverso {2}",
        "{0} × ozdoba {3}, otwór Ø {1}, przez {2}";
    /// {0}: how many, {1}: hole, {2}: leather.
    Eyelets:
        "{0} × eyelet, hole Ø {1}, through {2}",
        "{0} × Öse, Loch Ø {1}, durch {2}",
        "{0} × œillet, trou Ø {1}, à travers {2}",
        "{0} × ojete, agujero Ø {1}, a través de {2}",
        "{0} × occhiello, foro Ø {1}, attraverso {2}",
        "{0} × oczko, otwór Ø {1}, przez {2}";
    /// {0}: how many, {1}: hole, {2}: leather.
    Snaps:
        "{0} × snap half, hole Ø {1}, through {2}",
        "{0} × Druckknopfhälfte, Loch Ø {1}, durch {2}",
        "{0} × moitié de bouton-pression, trou Ø {1}, à travers {2}",
        "{0} × mitad de broche de presión, agujero Ø {1}, a través de {2}",
        "{0} × metà di bottone automatico, foro Ø {1}, attraverso {2}",
        "{0} × połówka zatrzasku, otwór Ø {1}, przez {2}";
    /// {0}: how many, {1}: thickness of the bar, {2}: width of the strap.
    Ring:
        "{0} × ring, hook or bar Ø {1}, at least {2} inside",
        "{0} × Ring, Haken oder Steg Ø {1}, innen mindestens {2}",
        "{0} × anneau, crochet ou barrette Ø {1}, au moins {2} intérieur",
        "{0} × anilla, gancho o barra Ø {1}, interior mínimo {2}",
        "{0} × anello, gancio o barra Ø {1}, interno almeno {2}",
        "{0} × kółko, hak lub pręt Ø {1}, wewnątrz co najmniej {2}";
    /// {0}: how many, {1}: thickness of the bar, {2}: width of the strap.
    TongueBuckle:
        "{0} × buckle with a tongue, bar Ø {1}, at least {2} inside",
        "{0} × Dornschnalle, Steg Ø {1}, innen mindestens {2}",
        "{0} × boucle à ardillon, barrette Ø {1}, au moins {2} intérieur",
        "{0} × hebilla con clavillo, barra Ø {1}, interior mínimo {2}",
        "{0} × fibbia con ardiglione, barra Ø {1}, interno almeno {2}",
        "{0} × klamra z kolcem, pręt Ø {1}, wewnątrz co najmniej {2}";
    /// {0}: how many, {1}: width of the keeper's strip, {2}: its cut length.
    Keeper:
        "{0} × keeper {1} wide, cut {2} long", "{0} × Schlaufe {1} breit, Zuschnitt {2} lang",
        "{0} × passant large de {1}, coupé à {2}",
        "{0} × trabilla de {1} de ancho, cortada a {2}",
        "{0} × passante largo {1}, tagliato a {2}",
        "{0} × szlufka szerokości {1}, cięta na {2}";
}
