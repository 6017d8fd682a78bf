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
    /// How it was measured: from the bar at the beginning to the tip.
    TakenTip:
        "bar to tip", "Steg bis Spitze", "de la barrette à la pointe",
        "de la barra a la punta", "dalla barra alla punta", "od pręta do końca";
    /// How it was measured: with a sizing strap; the girth follows.
    TakenSizing:
        "sizing strap", "Maßriemen", "courroie de mesure", "correa de medir",
        "cinghia di misura", "pasek do mierzenia";
    /// Which hole of a sizing strap. {0}: its number.
    SizingHole:
        "hole {0}", "Loch {0}", "trou {0}", "agujero {0}", "foro {0}", "otwór {0}";
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
    /// Heading of what a ready-cut blank has already.
    BlankHas:
        "On the blank already, flat from its buckle end",
        "Schon im Rohling, flach vom Schnallenende",
        "Déjà sur la bande prédécoupée, à plat depuis le bout de la boucle",
        "Ya en la tira precortada, en plano desde el extremo de la hebilla",
        "Già sulla striscia pretagliata, in piano dal capo della fibbia",
        "Już na gotowym pasku, na płasko od końca z klamrą";
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
    /// {0}: length and width, {1}: how many slots or oval holes, {2}: their width.
    PunchSlot:
        "oblong hole {0}: {1} ×, round punch Ø {2} and knife, or slot punch",
        "Langloch {0}: {1} ×, Locheisen Ø {2} und Messer oder Langlocheisen",
        "trou oblong {0}\u{a0}: {1} ×, emporte-pièce Ø {2} et couteau, ou emporte-pièce oblong",
        "agujero oblongo {0}: {1} ×, sacabocados Ø {2} y cuchilla, o sacabocados oblongo",
        "foro oblungo {0}: {1} ×, fustella Ø {2} e coltello, o fustella oblunga",
        "otwór podłużny {0}: {1} ×, wybijak Ø {2} i nóż lub wybijak podłużny";
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
    /// Heading of what is used up.
    Supplies:
        "Supplies",
        "Verbrauchsmaterial",
        "Fournitures",
        "Materiales",
        "Materiali",
        "Materiały";
    /// {0}: length of the thread, {1}: length of the seams.
    Thread:
        "thread {0}: 2.5 × {1} of seam, and an arm’s length more for each seam; 2 needles",
        "Faden {0}: 2,5 × {1} Naht, dazu je Naht eine Armlänge; 2 Nadeln",
        "fil {0}\u{a0}: 2,5 × {1} de couture, et une longueur de bras en plus par couture\u{a0}; 2 aiguilles",
        "hilo {0}: 2,5 × {1} de costura, y un brazo más por costura; 2 agujas",
        "filo {0}: 2,5 × {1} di cucitura, e un braccio in più per cucitura; 2 aghi",
        "nić {0}: 2,5 × {1} szwu i jeszcze długość ręki na każdy szew; 2 igły";
    /// Supplies of a strap with a lining.
    ContactCement:
        "contact cement for the lining",
        "Kontaktkleber für das Futter",
        "colle contact pour la doublure",
        "cola de contacto para el forro",
        "colla a contatto per la fodera",
        "klej kontaktowy do podszewki";
    /// Supplies of a strap with screw posts.
    ThreadLock:
        "thread lock for screw posts",
        "Schraubensicherung für Buchschrauben",
        "frein-filet pour vis de reliure",
        "fijador de roscas para tornillos de unión",
        "frenafiletti per viti a colonna",
        "klej do gwintów do śrub kaletniczych";
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
        "size hole", "Loch nach Maß", "trou à la mesure", "agujero de la medida",
        "foro della misura",
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
    /// Within the outline of a card. {0}, {1}: its size.
    CardCheck:
        "A quick look only: a bank card (ISO/IEC 7810 ID-1, {0} × {1}) should cover this outline. It does not show a small error: the scale bars decide.",
        "Nur ein schneller Blick: Eine Bankkarte (ISO/IEC 7810 ID-1, {0} × {1}) sollte diesen Umriss decken. Einen kleinen Fehler zeigt sie nicht: Die Maßstäbe entscheiden.",
        "Simple coup d’œil\u{a0}: une carte bancaire (ISO/IEC 7810 ID-1, {0} × {1}) devrait couvrir ce contour. Elle ne montre pas un petit écart\u{a0}: les échelles décident.",
        "Solo un vistazo: una tarjeta bancaria (ISO/IEC 7810 ID-1, {0} × {1}) debería cubrir este contorno. No muestra un error pequeño: deciden las escalas.",
        "Solo un’occhiata: una carta bancaria (ISO/IEC 7810 ID-1, {0} × {1}) dovrebbe coprire questo contorno. Non mostra un piccolo errore: decidono le scale.",
        "Tylko rzut oka: karta bankowa (ISO/IEC 7810 ID-1, {0} × {1}) powinna pokryć ten obrys. Małego błędu nie pokaże: decydują skale.";
}
