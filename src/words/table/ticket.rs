//! The ticket: its headings, what was measured, the tools and the girths.

use super::{Word, phrases};

phrases! {
    /// Title of the ticket.
    Ticket:
        "Work ticket", "Arbeitszettel", "Fiche de travail", "Hoja de trabajo",
        "Scheda di lavoro", "Karta pracy";
    /// What was measured.
    Measure: "Measure", "Maß", "Mesure", "Medida", "Misura", "Miara";
    /// {0}: a length.
    Ease:
        "ease {0}", "Zugabe {0}", "aisance {0}", "holgura {0}", "agio {0}", "luz {0}";
    /// How it was measured: round the body.
    TakenTape:
        "tape round the body", "Maßband um den Körper", "ruban autour du corps",
        "cinta alrededor del cuerpo", "metro intorno al corpo", "taśma wokół ciała";
    /// How it was measured: round the body, with fingers under the tape.
    TakenFingers:
        "tape round the body, fingers under it", "Maßband um den Körper, Finger darunter",
        "ruban autour du corps, doigts dessous", "cinta alrededor del cuerpo, dedos debajo",
        "metro intorno al corpo, dita sotto", "taśma wokół ciała, palce pod nią";
    /// How it was measured: from the bend to the hole in use.
    TakenBend:
        "bend to hole", "Biegung bis Loch", "du pli au trou", "del pliegue al agujero",
        "dalla piega al foro", "od zgięcia do otworu";
    /// How it was measured: from the buckle's bar to the hole in use.
    TakenBar:
        "bar to hole", "Steg bis Loch", "de la barrette au trou",
        "de la barra al agujero", "dalla barra al foro", "od pręta do otworu";
    /// How it was measured: from the far edge of the frame to the hole in use.
    TakenFrame:
        "frame to hole", "Rahmen bis Loch", "du cadre au trou", "del marco al agujero",
        "dal telaio al foro", "od ramki do otworu";
    /// How it was measured: the size in the trousers.
    TakenTrousers:
        "trouser size, an estimate", "Hosengröße, geschätzt",
        "taille du pantalon, estimation", "talla del pantalón, estimación",
        "taglia dei pantaloni, stima", "rozmiar spodni, szacunek";
    /// {0}: inside width, {1}: diameter of the bar, {2}: reach.
    Buckle:
        "buckle {0} inside, bar Ø {1}, reach {2}",
        "Schnalle {0} innen, Steg Ø {1}, Dornauflage {2}",
        "boucle {0} intérieur, barrette Ø {1}, appui de l’ardillon à {2}",
        "hebilla {0} interior, barra Ø {1}, apoyo del clavillo a {2}",
        "fibbia {0} interno, barra Ø {1}, appoggio dell’ardiglione a {2}",
        "klamra {0} wewnątrz, pręt Ø {1}, oparcie kolca {2}";
    /// Heading of the list of pieces.
    Pieces: "Pieces", "Teile", "Pièces", "Piezas", "Pezzi", "Części";
    /// Column: the length to cut.
    CutLength:
        "cut length", "Zuschnittlänge", "longueur de coupe", "largo de corte",
        "lunghezza di taglio", "długość cięcia";
    /// Column: the width to cut.
    Width: "width", "Breite", "largeur", "ancho", "larghezza", "szerokość";
    /// Column: thickness of the leather.
    Thickness:
        "thickness", "Stärke", "épaisseur", "grosor", "spessore", "grubość";
    /// Heading of the order of work.
    OrderOfWork:
        "Order of work", "Arbeitsfolge", "Ordre de travail", "Orden de trabajo",
        "Ordine di lavoro", "Kolejność pracy";
    /// Heading of the tools.
    Tools: "Tools", "Werkzeug", "Outils", "Herramientas", "Attrezzi", "Narzędzia";
    /// {0}: diameter, {1}: how many holes.
    PunchRound:
        "round punch Ø {0}: {1} ×", "Locheisen rund Ø {0}: {1} ×",
        "emporte-pièce rond Ø {0}\u{a0}: {1} ×", "sacabocados redondo Ø {0}: {1} ×",
        "fustella tonda Ø {0}: {1} ×", "wybijak okrągły Ø {0}: {1} ×";
    /// {0}: length and width, {1}: how many slots.
    PunchSlot:
        "slot punch {0}: {1} ×", "Langlocheisen {0}: {1} ×",
        "emporte-pièce oblong {0}\u{a0}: {1} ×", "sacabocados oblongo {0}: {1} ×",
        "fustella oblunga {0}: {1} ×", "wybijak podłużny {0}: {1} ×";
    /// {0}: how many pricks.
    PrickStitches:
        "pricking iron or awl: {0} stitch holes", "Prickeisen oder Ahle: {0} Nahtlöcher",
        "griffe ou alêne\u{a0}: {0} trous de couture", "tenedor de costura o lezna: {0} agujeros de costura",
        "forchetta marcapunti o lesina: {0} fori di cucitura", "widełki lub szydło: {0} otworów pod szew";
    /// Tools that every strap takes.
    CommonTools:
        "awl, sharp knife, steel ruler, soft-faced mallet, backing, eye protection",
        "Ahle, scharfes Messer, Stahllineal, Schonhammer, Unterlage, Schutzbrille",
        "alêne, couteau affûté, réglet en acier, maillet à tête souple, support de frappe, lunettes de protection",
        "lezna, cuchilla afilada, regla de acero, mazo de cabeza blanda, base, gafas de protección",
        "lesina, coltello affilato, riga d’acciaio, mazzuolo a testa morbida, piano di battuta, occhiali di protezione",
        "szydło, ostry nóż, linijka stalowa, miękki pobijak, podkład, okulary ochronne";
    /// Heading of the girths that the strap serves.
    Serves:
        "Girths served", "Passende Umfänge", "Tours possibles", "Contornos posibles",
        "Circonferenze possibili", "Możliwe obwody";
    /// Heading of the lengths that the strap serves.
    ServesLengths:
        "Lengths served", "Passende Längen", "Longueurs possibles", "Largos posibles",
        "Lunghezze possibili", "Możliwe długości";
    /// The hole for the smallest girth.
    Tightest:
        "tightest hole", "engste Stellung", "trou le plus serré", "agujero más ceñido",
        "foro più stretto", "najciaśniejszy otwór";
    /// The hole of the size.
    SizeHole:
        "size hole", "Maßloch", "trou de taille", "agujero de talla", "foro di misura",
        "otwór rozmiaru";
    /// The hole for the largest girth.
    Loosest:
        "loosest hole", "weiteste Stellung", "trou le plus lâche", "agujero más holgado",
        "foro più largo", "najluźniejszy otwór";
    /// Heading of what to check.
    BeforePunch:
        "Before the first punch", "Vor dem ersten Loch", "Avant le premier trou",
        "Antes del primer agujero", "Prima del primo foro", "Przed pierwszym otworem";
    /// Heading of the cautions.
    Cautions:
        "Cautions", "Vorsicht", "Précautions", "Precauciones", "Avvertenze", "Ostrożnie";
    /// Beside the outline of a card.
    CardCheck:
        "A bank card (ISO/IEC 7810 ID-1) must cover this outline: {0} × {1}",
        "Eine Bankkarte (ISO/IEC 7810 ID-1) muss diesen Umriss decken: {0} × {1}",
        "Une carte bancaire (ISO/IEC 7810 ID-1) doit couvrir ce contour\u{a0}: {0} × {1}",
        "Una tarjeta bancaria (ISO/IEC 7810 ID-1) debe cubrir este contorno: {0} × {1}",
        "Una carta bancaria (ISO/IEC 7810 ID-1) deve coprire questo contorno: {0} × {1}",
        "Karta bankowa (ISO/IEC 7810 ID-1) musi pokryć ten obrys: {0} × {1}";
}
