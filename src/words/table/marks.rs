//! Pieces and marks: what each is called, and how its reading is told.

use super::{Word, phrases};

phrases! {
    /// The line where the strap folds.
    Bend: "bend", "Biegung", "pli", "pliegue", "piega", "zgięcie";
    /// What the rulers and the readings count from. {0}: the unit.
    BendReadings:
        "readings in {0} from the outside of the bend",
        "Ablesungen in {0} ab der Außenseite der Biegung",
        "lectures en {0} depuis l’extérieur du pli",
        "medidas en {0} desde el exterior del pliegue",
        "misure in {0} dall’esterno della piega",
        "miary w {0} od zewnętrznej strony zgięcia";
    /// The square end of the strap.
    End: "end", "Ende", "bout", "extremo", "estremità", "koniec";
    /// The other end of a piece, where readings begin.
    Start: "start", "Anfang", "début", "inicio", "inizio", "początek";
    /// The point of the strap.
    Tip: "tip", "Spitze", "pointe", "punta", "punta", "szpic";
    /// Beside what a ready-cut blank has already.
    OnBlank:
        "on blank", "am Rohling", "sur la bande prédécoupée", "en la tira", "sulla striscia",
        "na gotowym pasku";
    /// A slot for the tongue or a strap.
    Slot: "slot", "Langloch", "fente", "ranura", "asola", "szczelina";
    /// The hole of the wearer's size.
    Size: "size", "Maß", "taille", "talla", "misura", "rozmiar";
    /// Heading of the table of marks.
    MarksByTape:
        "Marks by tape", "Marken nach Maßband", "Repères au ruban", "Marcas con cinta",
        "Segni con il metro", "Znaki według taśmy";
    /// Where the readings count from.
    FromBend:
        "from the outside of the closed bend; − lies on the turn-back",
        "ab Außenseite der geschlossenen Biegung; − liegt auf dem Umschlag",
        "depuis l’extérieur du pli fermé\u{a0}; − est sur le retour",
        "desde el exterior del pliegue cerrado; − está en el doblez",
        "dall’esterno della piega chiusa; − è sul risvolto",
        "od zewnętrznej strony zamkniętego zgięcia; − leży na zawinięciu";
    /// Where the readings count from, on a piece that begins there.
    FromZero:
        "from the end", "ab dem Ende", "depuis le bout", "desde el extremo",
        "dall’estremità", "od końca";
    /// Where the readings count from, on a piece that goes on before it.
    FromMark:
        "from the mark at 0; − lies before it", "ab der Marke bei 0; − liegt davor",
        "depuis le repère à 0\u{a0}; − est avant", "desde la marca en 0; − está antes",
        "dal segno a 0; − è prima", "od znaku przy 0; − leży przed nim";
    /// Beside a piece that is cut the other way round.
    Mirrored:
        "mirrored", "gespiegelt", "en miroir", "invertida", "speculare", "lustrzane";
    /// A hole of the sizes.
    Hole: "hole", "Loch", "trou", "agujero", "foro", "otwór";
    /// A rivet, screw post or snap.
    Fastener: "fastener", "Niete", "rivet", "remache", "rivetto", "nit";
    /// A decorative fitting.
    Fitting: "fitting", "Zierteil", "garniture", "adorno", "borchia", "ozdoba";
    /// A hole for an eyelet.
    Eyelet: "eyelet", "Öse", "œillet", "ojete", "occhiello", "oczko";
    /// A hole for half of a snap.
    Snap: "snap", "Druckknopf", "pression", "broche", "automatico", "zatrzask";
    /// A pricked hole for a stitch.
    Stitch: "stitch", "Nahtloch", "point", "puntada", "punto", "ścieg";
    /// A cut with a knife that takes nothing away.
    Slit: "slit", "Schnitt", "entaille", "corte", "taglio", "nacięcie";
    /// Column: which mark.
    Mark: "mark", "Marke", "repère", "marca", "segno", "znak";
    /// Column: what to make there.
    Form: "form", "Form", "forme", "forma", "forma", "kształt";
    /// A hole with a slit that goes over a stud or a button.
    Stud: "stud", "Knopf", "bouton", "botón", "bottone", "guzik";
    /// The half of a snap that is seen.
    Cap: "cap", "Kappe", "calotte", "cabeza", "testa", "główka";
    /// The half of a snap that goes into its cap.
    Post: "post", "Unterteil", "partie mâle", "macho", "maschio", "trzonek";
    /// {0}: from one of many equal holes to the next.
    Pitch: "pitch {0}", "Abstand {0}", "pas de {0}", "paso {0}", "passo {0}", "co {0}";
    /// Column: the nearest 1/32 in.
    Nearest32:
        "to 1/32 in", "auf 1/32 in", "au 1/32 in", "al 1/32 in", "a 1/32 in",
        "do 1/32 in";
    /// Column: what is left over from the nearest 1/32 in.
    Rest: "rest", "Rest", "reste", "resto", "resto", "reszta";
    /// Column: how far off the centre line.
    Across:
        "off centre", "neben der Mitte", "hors axe", "fuera del eje", "fuori asse",
        "od środka";
}
