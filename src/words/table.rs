//! The table of words: one entry a phrase, in the order English, German, French, Spanish,
//! Italian, Polish. `{0}`, `{1}` stand for what is filled in.

macro_rules! table {
    ($($(#[$about:meta])* $word:ident: $($text:literal),+;)+) => {
        /// A phrase of the sheets.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Word { $($(#[$about])* $word,)+ }

        impl Word {
            /// All of them.
            pub const ALL: &[Self] = &[$(Self::$word,)+];

            /// The phrase in every language; one that is forgotten does not compile.
            pub(super) fn in_all(self) -> &'static [&'static str; 6] {
                match self { $(Self::$word => &[$($text),+],)+ }
            }
        }
    };
}

table! {
    /// Before the number of a sheet.
    Sheet: "sheet", "Blatt", "feuille", "hoja", "foglio", "arkusz";
    /// At the head of every sheet.
    PrintAtFull:
        "Print at 100 %, no fitting to page", "Mit 100 % drucken, nicht an Seite anpassen",
        "Imprimer à 100 %, sans ajuster à la page", "Imprimir al 100 %, sin ajustar a la página",
        "Stampare al 100 %, senza adattare alla pagina", "Drukować w skali 100 %, bez dopasowania";
    /// At the head of sheets for a printer that cannot but fit to the page.
    PrintFitted:
        "Print fitted to the page, as it was calibrated",
        "An die Seite angepasst drucken, wie kalibriert",
        "Imprimer ajusté à la page, comme à l’étalonnage",
        "Imprimir ajustado a la página, como al calibrar",
        "Stampare adattato alla pagina, come tarato",
        "Drukować dopasowane do strony, jak przy kalibracji";
    /// {0}: name of the printer.
    ForPrinter:
        "for printer {0}", "für Drucker {0}", "pour l’imprimante {0}",
        "para la impresora {0}", "per la stampante {0}", "dla drukarki {0}";
    /// {0}: a size of the stock.
    OneSize:
        "size {0}", "Größe {0}", "taille {0}", "talla {0}", "taglia {0}", "rozmiar {0}";
    /// {0}: the smallest and the largest size.
    CommonToSizes:
        "common to sizes {0}", "für alle Größen {0}", "commun aux tailles {0}",
        "común a las tallas {0}", "comune alle taglie {0}", "wspólne dla rozmiarów {0}";
    /// {0}: the smallest and the largest size.
    NestedSizes:
        "sizes {0}: punch one row, cut its tip",
        "Größen {0}: eine Reihe lochen, ihre Spitze schneiden",
        "tailles {0} : percer une rangée, couper sa pointe",
        "tallas {0}: perforar una fila, cortar su punta",
        "taglie {0}: forare una fila, tagliarne la punta",
        "rozmiary {0}: wybić jeden rząd, odciąć jego szpic";
    /// {0}: numbers of sheets, {1}: the print that they came with.
    WithSheet:
        "with sheet {0} of print {1}", "mit Blatt {0} aus Druck {1}",
        "avec la feuille {0} du tirage {1}", "con la hoja {0} de la impresión {1}",
        "con il foglio {0} della stampa {1}", "z arkuszem {0} wydruku {1}";
    /// {0}: how far off.
    LastHoleThen:
        "last hole then {0}", "letztes Loch dann {0}", "dernier trou alors {0}",
        "último agujero entonces {0}", "ultimo foro allora {0}", "ostatni otwór wtedy {0}";
    /// {0}: the wearer.
    For: "for {0}", "für {0}", "pour {0}", "para {0}", "per {0}", "dla: {0}";
    /// {0}: a length.
    FlatLength:
        "flat {0} end to end", "flach {0} von Ende zu Ende",
        "à plat {0} de bout en bout", "en plano {0} de extremo a extremo",
        "in piano {0} da capo a capo", "na płasko {0} od końca do końca";
    /// {0}, {1}: two girths.
    GirthRange:
        "girth {0} to {1}", "Umfang {0} bis {1}", "tour {0} à {1}",
        "contorno {0} a {1}", "giro da {0} a {1}", "obwód {0} do {1}";
    /// {0}: the number of a join.
    Join:
        "join {0}", "Stoß {0}", "raccord {0}", "unión {0}", "giunta {0}", "łączenie {0}";
    /// The line where the strap folds.
    Bend: "bend", "Biegung", "pli", "pliegue", "piega", "zgięcie";
    /// At the bend, for the rulers along the strap.
    BendReadings:
        "bend: readings count from its outside", "Biegung: gemessen ab ihrer Außenseite",
        "pli : lectures depuis son extérieur", "pliegue: medidas desde su exterior",
        "piega: misure dal suo esterno", "zgięcie: miary od jego zewnątrz";
    /// The square end of the strap.
    End: "end", "Ende", "bout", "extremo", "fine", "koniec";
    /// The point of the strap.
    Tip: "tip", "Spitze", "pointe", "punta", "punta", "szpic";
    /// Beside what a ready-cut blank has already.
    OnBlank:
        "on blank", "am Rohling", "sur l’ébauche", "en la tira", "sulla striscia",
        "na pasku";
    /// A slot for the tongue or a strap.
    Slot: "slot", "Schlitz", "fente", "ranura", "asola", "szczelina";
    /// The hole of the wearer's size.
    Size: "size", "Maß", "taille", "talla", "misura", "rozmiar";
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
        "tape round the body", "Band um den Körper", "ruban autour du corps",
        "cinta alrededor del cuerpo", "metro intorno al corpo", "taśma wokół ciała";
    /// How it was measured: round the body, with fingers under the tape.
    TakenFingers:
        "tape round the body, fingers under it", "Band um den Körper, Finger darunter",
        "ruban autour du corps, doigts dessous", "cinta con los dedos debajo",
        "metro con le dita sotto", "taśma wokół ciała, palce pod nią";
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
        "Schnalle {0} innen, Steg Ø {1}, bis zum Dorn {2}",
        "boucle {0} intérieur, barrette Ø {1}, portée {2}",
        "hebilla {0} interior, barra Ø {1}, alcance {2}",
        "fibbia {0} interno, barra Ø {1}, portata {2}",
        "klamra {0} wewnątrz, pręt Ø {1}, zasięg {2}";
    /// Heading of the list of pieces.
    Pieces: "Pieces", "Teile", "Pièces", "Piezas", "Pezzi", "Części";
    /// Column: the length to cut.
    CutLength:
        "cut length", "Zuschnittlänge", "longueur coupée", "largo de corte",
        "lunghezza di taglio", "długość cięcia";
    /// Column: the width to cut.
    Width: "width", "Breite", "largeur", "ancho", "larghezza", "szerokość";
    /// Column: thickness of the leather.
    Thickness:
        "thickness", "Dicke", "épaisseur", "grosor", "spessore", "grubość";
    /// Heading of the order of work.
    OrderOfWork:
        "Order of work", "Arbeitsfolge", "Ordre de travail", "Orden de trabajo",
        "Ordine di lavoro", "Kolejność pracy";
    /// Heading of the table of marks.
    MarksByTape:
        "Marks by tape", "Marken mit dem Band", "Repères au ruban", "Marcas con cinta",
        "Segni con il metro", "Znaki taśmą";
    /// Where the readings count from.
    FromBend:
        "from the outside of the closed bend; − lies on the turn-back",
        "ab Außenseite der geschlossenen Biegung; − liegt auf dem Umschlag",
        "depuis l’extérieur du pli fermé ; − est sur le rempli",
        "desde el exterior del pliegue cerrado; − está en el doblez",
        "dall’esterno della piega chiusa; − è sul risvolto",
        "od zewnątrz zamkniętego zgięcia; − leży na zawinięciu";
    /// Where the readings count from, on a piece that begins there.
    FromZero:
        "from the end", "ab dem Ende", "depuis le bout", "desde el extremo",
        "dall’estremità", "od końca";
    /// Where the readings count from, on a piece that goes on before it.
    FromMark:
        "from the mark at 0; − lies before it", "ab der Marke bei 0; − liegt davor",
        "depuis le repère à 0 ; − est avant", "desde la marca en 0; − está antes",
        "dal segno a 0; − è prima", "od znaku przy 0; − leży przed nim";
    /// The piece that has no name of its own.
    PieceStrap: "strap", "Riemen", "lanière", "correa", "cinghia", "pasek";
    /// The piece that holds the strap's end.
    PieceKeeper: "keeper", "Schlaufe", "passant", "trabilla", "passante", "szlufka";
    /// The piece that lines another.
    PieceLining: "lining", "Futter", "doublure", "forro", "fodera", "podszewka";
    /// Beside a piece that is cut the other way round.
    Mirrored:
        "mirrored", "gespiegelt", "en miroir", "invertida", "speculare", "lustrzane";
    /// A hole of the sizes.
    Hole: "hole", "Loch", "trou", "agujero", "foro", "otwór";
    /// A rivet, screw post or snap.
    Fastener: "fastener", "Niet", "rivet", "remache", "rivetto", "nit";
    /// A decorative fitting.
    Fitting: "fitting", "Zierteil", "garniture", "adorno", "guarnizione", "ozdoba";
    /// A hole for an eyelet.
    Eyelet: "eyelet", "Öse", "œillet", "ojete", "occhiello", "oczko";
    /// A hole for half of a snap.
    Snap: "snap", "Druckknopf", "pression", "broche", "bottone", "zatrzask";
    /// A pricked hole for a stitch.
    Stitch: "stitch", "Naht", "couture", "costura", "cucitura", "szew";
    /// A cut with a knife that takes nothing away.
    Slit: "slit", "Schnitt", "entaille", "corte", "taglio", "nacięcie";
    /// Column: which mark.
    Mark: "mark", "Marke", "repère", "marca", "segno", "znak";
    /// Column: what to make there.
    Form: "form", "Form", "forme", "forma", "forma", "forma";
    /// Column: the nearest 1/32 in.
    Nearest32:
        "nearest 1/32 in", "nächstes 1/32 in", "1/32 in le plus proche",
        "1/32 in más próximo", "1/32 in più vicino", "najbliższe 1/32 in";
    /// Column: what is left over from the nearest 1/32 in.
    Rest: "rest", "Rest", "reste", "resto", "resto", "reszta";
    /// Column: how far off the centre line.
    Across:
        "off centre", "neben der Mitte", "hors axe", "fuera del eje", "fuori asse",
        "od środka";
    /// Heading of the tools.
    Tools: "Tools", "Werkzeug", "Outils", "Herramientas", "Attrezzi", "Narzędzia";
    /// {0}: diameter, {1}: how many holes.
    PunchRound:
        "round punch Ø {0}: {1} ×", "Locheisen rund Ø {0}: {1} ×",
        "emporte-pièce rond Ø {0} : {1} ×", "sacabocados redondo Ø {0}: {1} ×",
        "fustella tonda Ø {0}: {1} ×", "wybijak okrągły Ø {0}: {1} ×";
    /// {0}: length, {1}: width, {2}: how many slots.
    PunchSlot:
        "slot punch {0} × {1}: {2} ×", "Schlitzeisen {0} × {1}: {2} ×",
        "emporte-pièce oblong {0} × {1} : {2} ×", "sacabocados oblongo {0} × {1}: {2} ×",
        "fustella ovale {0} × {1}: {2} ×", "wybijak podłużny {0} × {1}: {2} ×";
    /// {0}: how many pricks.
    PrickStitches:
        "pricking iron or awl: {0} stitch holes", "Prickeisen oder Ahle: {0} Nahtlöcher",
        "griffe ou alêne : {0} trous de couture", "tenedor o lezna: {0} agujeros de costura",
        "forchetta o lesina: {0} fori di cucitura", "dziurkacz lub szydło: {0} otworów szwu";
    /// Tools that every strap takes.
    CommonTools:
        "awl, sharp knife, steel ruler, soft-faced mallet, backing, eye protection",
        "Ahle, scharfes Messer, Stahllineal, Schonhammer, Unterlage, Schutzbrille",
        "alêne, couteau affûté, réglet d’acier, maillet tendre, support, lunettes de protection",
        "lezna, cuchilla afilada, regla de acero, mazo blando, base, gafas de protección",
        "lesina, coltello affilato, riga d’acciaio, mazzuolo morbido, base, occhiali di protezione",
        "szydło, ostry nóż, linijka stalowa, miękki pobijak, podkład, okulary ochronne";
    /// Heading of the hardware.
    Hardware: "Hardware", "Beschläge", "Quincaillerie", "Herrajes", "Minuteria", "Okucia";
    /// {0}: how many, {1}: hole, {2}: stack, {3}: least post, {4}: longest post.
    Fasteners:
        "{0} × fastener, hole Ø {1}, stack {2}: rivet post {3} to {4}, screw post just under {2}",
        "{0} × Niete, Loch Ø {1}, Lagen {2}: Nietschaft {3} bis {4}, Schraubniet knapp unter {2}",
        "{0} × rivet, trou Ø {1}, épaisseur {2} : tige {3} à {4}, vis un peu sous {2}",
        "{0} × remache, agujero Ø {1}, grosor {2}: vástago {3} a {4}, tornillo algo menos de {2}",
        "{0} × rivetto, foro Ø {1}, spessore {2}: gambo {3}–{4}, vite poco meno di {2}",
        "{0} × nit, otwór Ø {1}, warstwy {2}: trzpień {3} do {4}, śruba nieco poniżej {2}";
    /// {0}: the fasteners, {1}: the posts that the job says are there.
    PostGiven:
        "{0}; post on hand {1}", "{0}; vorhandener Schaft {1}", "{0} ; tige disponible {1}",
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
    /// {0}: how many, {1}: hole, {2}: leather.
    Fittings:
        "{0} × fitting, hole Ø {1}, through {2}",
        "{0} × Zierteil, Loch Ø {1}, durch {2}",
        "{0} × garniture, trou Ø {1}, à travers {2}",
        "{0} × adorno, agujero Ø {1}, a través de {2}",
        "{0} × guarnizione, foro Ø {1}, attraverso {2}",
        "{0} × ozdoba, otwór Ø {1}, przez {2}";
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
        "{0} × moitié de pression, trou Ø {1}, à travers {2}",
        "{0} × mitad de broche, agujero Ø {1}, a través de {2}",
        "{0} × metà di bottone, foro Ø {1}, attraverso {2}",
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
    /// Heading of the girths that the strap serves.
    Serves:
        "Girths served", "Passende Umfänge", "Tours possibles", "Contornos posibles",
        "Giri possibili", "Obwody";
    /// Heading of the lengths that the strap serves.
    ServesLengths:
        "Lengths served", "Passende Längen", "Longueurs possibles", "Largos posibles",
        "Lunghezze possibili", "Długości";
    /// The hole for the smallest girth.
    Tightest:
        "tightest hole", "engstes Loch", "trou le plus serré", "agujero más ceñido",
        "foro più stretto", "najciaśniejszy otwór";
    /// The hole of the size.
    SizeHole:
        "size hole", "Maßloch", "trou de taille", "agujero de talla", "foro di misura",
        "otwór rozmiaru";
    /// The hole for the largest girth.
    Loosest:
        "loosest hole", "weitestes Loch", "trou le plus large", "agujero más holgado",
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
        "Une carte bancaire (ISO/IEC 7810 ID-1) doit couvrir ce contour : {0} × {1}",
        "Una tarjeta bancaria (ISO/IEC 7810 ID-1) debe cubrir este contorno: {0} × {1}",
        "Una carta bancaria (ISO/IEC 7810 ID-1) deve coprire questo contorno: {0} × {1}",
        "Karta bankowa (ISO/IEC 7810 ID-1) musi pokryć ten obrys: {0} × {1}";
    /// Step: cut the pieces of a strap that ends in a tip.
    StepCut:
        "Cut the pieces to length and width; the tip comes later.",
        "Teile auf Länge und Breite zuschneiden; die Spitze kommt später.",
        "Couper les pièces à longueur et largeur ; la pointe vient plus tard.",
        "Cortar las piezas a largo y ancho; la punta viene después.",
        "Tagliare i pezzi a lunghezza e larghezza; la punta viene dopo.",
        "Wyciąć części na długość i szerokość; szpic później.";
    /// Step: cut the pieces of a strap whose ends are square.
    StepCutSquare:
        "Cut the pieces to length and width.", "Teile auf Länge und Breite zuschneiden.",
        "Couper les pièces à longueur et largeur.", "Cortar las piezas a largo y ancho.",
        "Tagliare i pezzi a lunghezza e larghezza.",
        "Wyciąć części na długość i szerokość.";
    /// Step: lay the print on a ready-cut blank.
    StepBlank:
        "Lay the paper on the blank: what the blank has already governs.",
        "Papier auf den Rohling legen: was er schon hat, gilt.",
        "Poser le papier sur l’ébauche : ce qu’elle a déjà fait foi.",
        "Poner el papel sobre la tira: lo que ya tiene manda.",
        "Posare la carta sulla striscia: ciò che ha già comanda.",
        "Ułożyć papier na pasku: decyduje to, co już w nim jest.";
    /// Step: mark.
    StepMark:
        "Tape the paper to the grain side and prick every cross with the awl.",
        "Papier auf der Narbenseite festkleben, jedes Kreuz mit der Ahle stechen.",
        "Fixer le papier côté fleur et piquer chaque croix à l’alêne.",
        "Fijar el papel en el lado flor y picar cada cruz con la lezna.",
        "Fissare la carta sul lato fiore e segnare ogni croce con la lesina.",
        "Przykleić papier po stronie lica i nakłuć szydłem każdy krzyż.";
    /// Step: punch slots and holes.
    StepPunch:
        "Punch the slots, then the holes.", "Schlitze, dann Löcher schlagen.",
        "Percer les fentes, puis les trous.", "Perforar las ranuras, luego los agujeros.",
        "Fustellare le asole, poi i fori.", "Wybić szczeliny, potem otwory.";
    /// Step: punch holes, where there are no slots.
    StepPunchHoles:
        "Punch the holes.", "Löcher schlagen.", "Percer les trous.",
        "Perforar los agujeros.", "Fustellare i fori.", "Wybić otwory.";
    /// Step: cut the slits.
    StepSlit:
        "Cut the slits with the knife, each toward its hole.",
        "Schnitte mit dem Messer machen, jeden zu seinem Loch hin.",
        "Fendre les entailles au couteau, chacune vers son trou.",
        "Hacer los cortes con la cuchilla, cada uno hacia su agujero.",
        "Incidere i tagli con la lama, ciascuno verso il suo foro.",
        "Naciąć nożem nacięcia, każde w stronę otworu.";
    /// Step: prick the seams.
    StepPrick:
        "Prick the stitch holes.", "Nahtlöcher stechen.",
        "Piquer les trous de couture.", "Picar los agujeros de costura.",
        "Segnare i fori di cucitura.", "Wykłuć otwory szwu.";
    /// Step: cut the tip.
    StepTip:
        "Cut the ends along the thick line.", "Enden entlang der dicken Linie schneiden.",
        "Couper les bouts sur le trait fort.", "Cortar los extremos por la línea gruesa.",
        "Tagliare le estremità sulla linea spessa.", "Odciąć końce wzdłuż grubej linii.";
    /// Step: cut the outline of a strap whose width changes.
    StepOutline:
        "Cut the outline along the thick line.",
        "Umriss entlang der dicken Linie schneiden.",
        "Couper le contour sur le trait fort.", "Cortar el contorno por la línea gruesa.",
        "Tagliare il contorno sulla linea spessa.", "Wyciąć obrys wzdłuż grubej linii.";
    /// Step: skive. {0}: how far from the end.
    StepSkive:
        "Skive the flesh side of the turn-back over its last {0}.",
        "Umschlag fleischseitig auf den letzten {0} schärfen.",
        "Parer le rempli côté chair sur les derniers {0}.",
        "Rebajar el doblez por el lado carne en los últimos {0}.",
        "Scarnire il risvolto sul lato carne per gli ultimi {0}.",
        "Ścienić zawinięcie od strony mizdry na ostatnich {0}.";
    /// Step: skive several folds.
    StepSkiveEach:
        "Skive the flesh side of every turn-back over its last third.",
        "Jeden Umschlag fleischseitig im letzten Drittel schärfen.",
        "Parer chaque rempli côté chair sur le dernier tiers.",
        "Rebajar cada doblez por el lado carne en el último tercio.",
        "Scarnire ogni risvolto sul lato carne nell’ultimo terzo.",
        "Ścienić każde zawinięcie od strony mizdry w ostatniej trzeciej części.";
    /// Step: line.
    StepLining:
        "Cement the lining flesh to flesh, let it set, and trim it.",
        "Futter Fleisch auf Fleisch kleben, abbinden lassen, beschneiden.",
        "Coller la doublure chair contre chair, laisser prendre, araser.",
        "Pegar el forro carne con carne, dejar fraguar y recortar.",
        "Incollare la fodera carne contro carne, far presa, rifilare.",
        "Skleić podszewkę mizdrą do mizdry, odczekać i przyciąć.";
    /// Step: edges and dye.
    StepDye:
        "Bevel the edges, then dye, let dry, and burnish.",
        "Kanten brechen, färben, trocknen lassen, polieren.",
        "Abattre les arêtes, teindre, laisser sécher, lisser.",
        "Biselar los cantos, teñir, dejar secar y bruñir.",
        "Smussare i bordi, tingere, asciugare e lucidare.",
        "Sfazować krawędzie, barwić, wysuszyć i wypolerować.";
    /// Step: the keeper.
    StepKeeper:
        "Close each keeper into a loop; put it in before the fold is closed.",
        "Jede Schlaufe zum Ring schließen; vor dem Schließen der Falte einsetzen.",
        "Fermer chaque passant en boucle ; le placer avant de fermer le pli.",
        "Cerrar cada trabilla en aro; ponerla antes de cerrar el pliegue.",
        "Chiudere ogni passante ad anello; inserirlo prima di chiudere la piega.",
        "Zamknąć każdą szlufkę w pętlę; włożyć przed zamknięciem zgięcia.";
    /// Step: folds that fasteners hold.
    StepSet:
        "Fold round the buckle, ring or hook, and set the fasteners.",
        "Um Schnalle, Ring oder Haken legen, Nieten setzen.",
        "Plier sur la boucle, l’anneau ou le crochet, poser les rivets.",
        "Doblar sobre la hebilla, anilla o gancho y poner los remaches.",
        "Piegare sulla fibbia, sull’anello o sul gancio, mettere i rivetti.",
        "Zawinąć na klamrze, kółku lub haku i osadzić nity.";
    /// Step: folds that are stitched.
    StepFold:
        "Fold round the buckle, ring or bar.", "Um Schnalle, Ring oder Steg legen.",
        "Plier sur la boucle, l’anneau ou la barrette.",
        "Doblar sobre la hebilla, anilla o barra.",
        "Piegare sulla fibbia, sull’anello o sulla barra.",
        "Zawinąć na klamrze, kółku lub pręcie.";
    /// Step: stitch.
    StepStitch:
        "Stitch the seams.", "Nähte nähen.", "Coudre.", "Coser las costuras.",
        "Cucire.", "Zszyć szwy.";
    /// Step: what else is set, past the folds.
    StepSetRest:
        "Set the fittings and other hardware last.",
        "Zierteile und übrige Beschläge zuletzt setzen.",
        "Poser les garnitures et le reste en dernier.",
        "Colocar al final los adornos y demás herrajes.",
        "Montare per ultimi guarnizioni e altra minuteria.",
        "Na końcu osadzić ozdoby i pozostałe okucia.";
    /// Step: set the hardware of a strap without a fold.
    StepSetPlain:
        "Set the hardware.", "Beschläge setzen.", "Poser la quincaillerie.",
        "Colocar los herrajes.", "Montare la minuteria.", "Osadzić okucia.";
    /// Step: finish what is worn.
    StepFinish:
        "Apply the finish, let it cure, and try the strap on.",
        "Finish auftragen, aushärten lassen, anprobieren.",
        "Appliquer la finition, laisser durcir, essayer.",
        "Aplicar el acabado, dejar curar y probar.",
        "Applicare la finitura, lasciare asciugare e provare.",
        "Nałożyć wykończenie, utwardzić i przymierzyć.";
    /// Step: finish what nobody tries on.
    StepFinishPlain:
        "Apply the finish and let it cure.", "Finish auftragen und aushärten lassen.",
        "Appliquer la finition et laisser durcir.", "Aplicar el acabado y dejar curar.",
        "Applicare la finitura e lasciare asciugare.",
        "Nałożyć wykończenie i utwardzić.";
    /// Check: the bars.
    CheckBars:
        "Both scale bars of every sheet read what stands beside them; all corner angles are there.",
        "Beide Maßstäbe jedes Blattes messen, was daneben steht; alle Eckwinkel sind da.",
        "Les deux échelles de chaque feuille mesurent ce qui est écrit à côté ; tous les coins y sont.",
        "Las dos escalas de cada hoja miden lo escrito al lado; están todas las esquinas.",
        "Le due scale di ogni foglio misurano quanto scritto accanto; ci sono tutti gli angoli.",
        "Obie skale na każdym arkuszu mają miarę podaną obok; widać wszystkie narożniki.";
    /// {0}, {1}: two crosses, {2}: their distance, {3}, {4}: what may be read.
    CheckEnds:
        "cross {0} to cross {1}: {2}; accept {3} to {4}",
        "Kreuz {0} bis Kreuz {1}: {2}; zulässig {3} bis {4}",
        "croix {0} à croix {1} : {2} ; accepter {3} à {4}",
        "cruz {0} a cruz {1}: {2}; aceptar {3} a {4}",
        "croce {0} a croce {1}: {2}; accettare da {3} a {4}",
        "krzyż {0} do krzyża {1}: {2}; przyjąć {3} do {4}";
    /// Beside a scale bar. {0}, {1}: what may be read on it, in mm.
    AcceptOnBar:
        "accept {0} to {1}", "zulässig {0} bis {1}", "accepter {0} à {1}",
        "aceptar {0} a {1}", "accettare da {0} a {1}", "przyjąć {0} do {1}";
    /// Check: the hardware itself, with a buckle.
    CheckHardware:
        "Your own hardware is measured: bar, reach, tongue, posts.",
        "Die eigenen Beschläge sind gemessen: Steg, Dorn, Schäfte.",
        "La quincaillerie réelle est mesurée : barrette, ardillon, tiges.",
        "Los herrajes reales están medidos: barra, clavillo, vástagos.",
        "La minuteria vera è misurata: barra, ardiglione, gambi.",
        "Własne okucia zmierzone: pręt, kolec, trzpienie.";
    /// Check: the hardware itself, without a buckle.
    CheckHardwarePlain:
        "Your own hardware is measured.", "Die eigenen Beschläge sind gemessen.",
        "La quincaillerie réelle est mesurée.", "Los herrajes reales están medidos.",
        "La minuteria vera è misurata.", "Własne okucia są zmierzone.";
    /// Check: the punches on waste leather.
    CheckScrap:
        "Each punch was tried on a scrap of the same leather.",
        "Jedes Eisen auf einem Rest desselben Leders probiert.",
        "Chaque emporte-pièce essayé sur une chute du même cuir.",
        "Cada sacabocados probado en un retal del mismo cuero.",
        "Ogni fustella provata su un ritaglio dello stesso cuoio.",
        "Każdy wybijak wypróbowany na skrawku tej samej skóry.";
    /// Caution: local rules.
    CautionRules:
        "Local rules and licensed practice come first.",
        "Örtliche Vorschriften und zugelassene Fachleute gehen vor.",
        "Les règles locales et les professionnels agréés priment.",
        "Priman las normas locales y la práctica autorizada.",
        "Prevalgono le norme locali e la pratica autorizzata.",
        "Pierwszeństwo mają przepisy lokalne i praktyka uprawnionych.";
    /// Caution: knife and punch.
    CautionTools:
        "Cut away from the body on a firm mat; eye protection and a backing at the punch.",
        "Vom Körper weg auf fester Matte schneiden; beim Lochen Schutzbrille und Unterlage.",
        "Couper loin du corps sur un tapis ferme ; lunettes et support pour percer.",
        "Cortar lejos del cuerpo sobre base firme; gafas y base al perforar.",
        "Tagliare lontano dal corpo su base ferma; occhiali e base quando si fustella.",
        "Ciąć od siebie na twardej macie; przy wybijaniu okulary i podkład.";
    /// Caution: cement and finish.
    CautionFumes:
        "Ventilate cement and finish, no flame near them; read their data sheets.",
        "Bei Kleber und Finish lüften, keine Flamme; Datenblätter lesen.",
        "Aérer colle et finition, pas de flamme ; lire leurs fiches.",
        "Ventilar cola y acabado, sin llamas; leer sus fichas.",
        "Arieggiare colla e finitura, niente fiamme; leggere le schede.",
        "Wietrzyć przy kleju i wykończeniu, bez ognia; czytać karty.";
    /// Caution: no load.
    CautionLoad:
        "Not rated: not for lifting, fall arrest, climbing, restraint or riding.",
        "Ohne Tragfähigkeit: nicht für Heben, Sturz, Klettern, Fixieren, Reiten.",
        "Sans charge garantie : ni levage, ni antichute, ni escalade, ni contention, ni monte.",
        "Sin carga nominal: ni elevar, ni anticaída, ni escalada, ni sujeción, ni montar.",
        "Senza portata: né sollevare, né anticaduta, né arrampicata, né contenzione, né sella.",
        "Bez nośności: nie do podnoszenia, asekuracji, wspinaczki, krępowania, jazdy.";
    /// Caution: skin.
    CautionSkin:
        "On skin: nickel (REACH XVII 27, EN 1811), chromium VI (REACH XVII 47, EN ISO 17075).",
        "Auf Haut: Nickel (REACH XVII 27, EN 1811), Chrom VI (REACH XVII 47, EN ISO 17075).",
        "Sur la peau : nickel (REACH XVII 27, EN 1811), chrome VI (REACH XVII 47, EN ISO 17075).",
        "En la piel: níquel (REACH XVII 27, EN 1811), cromo VI (REACH XVII 47, EN ISO 17075).",
        "Sulla pelle: nichel (REACH XVII 27, EN 1811), cromo VI (REACH XVII 47, EN ISO 17075).",
        "Na skórze: nikiel (REACH XVII 27, EN 1811), chrom VI (REACH XVII 47, EN ISO 17075).";
    /// Caution: children.
    CautionChildren:
        "Children’s clothing: EN 14682; small parts come off, keep them from infants.",
        "Kinderkleidung: EN 14682; Kleinteile lösen sich, von Kleinkindern fernhalten.",
        "Vêtements d’enfant : EN 14682 ; petites pièces hors de portée des bébés.",
        "Ropa infantil: EN 14682; piezas pequeñas lejos de los bebés.",
        "Abiti per bambini: EN 14682; parti piccole lontano dai neonati.",
        "Odzież dziecięca: EN 14682; drobne części z dala od niemowląt.";
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lettering;
    use crate::words::Language;

    /// What a phrase leaves to be filled in, in order of the numbers.
    fn gaps(text: &str) -> Vec<&str> {
        let mut all: Vec<&str> =
            text.split('{').skip(1).filter_map(|part| part.split('}').next()).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    #[test]
    fn every_phrase_is_there_in_every_language() {
        for word in Word::ALL {
            let english = word.in_all()[0];
            for (text, language) in word.in_all().iter().zip(Language::ALL) {
                let code = language.code();
                assert!(!text.trim().is_empty(), "{word:?} in {code}");
                assert_eq!(gaps(text), gaps(english), "{word:?} in {code}");
                assert_eq!(
                    lettering::missing(text),
                    Vec::<char>::new(),
                    "{word:?} {code}"
                );
            }
        }
    }
}
