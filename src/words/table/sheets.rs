//! What stands on the strap's sheets: their heads, their bars, the words at joins.

use super::{Word, phrases};

phrases! {
    /// {0}: the number of the sheet, {1}: how many there are.
    SheetOf:
        "SHEET {0} of {1}", "BLATT {0} von {1}", "FEUILLE {0} sur {1}", "HOJA {0} de {1}",
        "FOGLIO {0} di {1}", "ARKUSZ {0} z {1}";
    /// First on every sheet.
    PrintAtFull:
        "PRINT AT 100 %", "MIT 100 % DRUCKEN", "IMPRIMER À 100\u{a0}%", "IMPRIMIR AL 100 %",
        "STAMPARE AL 100 %", "DRUKUJ W SKALI 100 %";
    /// First on sheets for a printer that cannot but fit to the page.
    PrintFitted:
        "PRINT FITTED TO PAGE", "AN SEITE ANGEPASST", "AJUSTER À LA PAGE",
        "AJUSTAR A LA PÁGINA", "ADATTARE ALLA PAGINA", "DOPASUJ DO STRONY";
    /// What to do with a print.
    NoFitting:
        "No “fit to page”. Then lay a steel ruler on both bars. If one is off, do not punch: print again.",
        "Nicht „an Seite anpassen“. Dann ein Stahllineal an beide Balken legen. Stimmt einer nicht: nicht lochen, neu drucken.",
        "Pas d’« ajuster à la page ». Puis poser un réglet sur les deux barres. Si l’une est fausse, ne pas percer\u{a0}: réimprimer.",
        "Sin «ajustar a la página». Luego, regla de acero en ambas barras. Si una falla, no perforar: imprimir de nuevo.",
        "Senza «adatta alla pagina». Poi una riga d’acciaio su entrambe le barre. Se una non torna, non forare: ristampare.",
        "Bez „dopasuj do strony”. Potem stalowa linijka na obu skalach. Gdy coś się nie zgadza: nie wybijać, drukować znowu.";
    /// The same in short, for a print that is corrected.
    NoFittingShort:
        "No “fit to page”. Lay a steel ruler on both bars.",
        "Nicht „an Seite anpassen“. Stahllineal an beide Balken legen.",
        "Pas d’« ajuster à la page ». Réglet sur les deux barres.",
        "Sin «ajustar a la página». Regla de acero en ambas barras.",
        "Senza «adatta alla pagina». Riga d’acciaio su entrambe le barre.",
        "Bez „dopasuj do strony”. Stalowa linijka na obu skalach.";
    /// The same for a printer that cannot but fit to the page.
    FitAgain:
        "Fit to page as when it was calibrated. Lay a steel ruler on both bars.",
        "An Seite anpassen wie beim Kalibrieren. Stahllineal an beide Balken legen.",
        "Ajuster à la page comme à l’étalonnage. Réglet sur les deux barres.",
        "Ajustar a la página como al calibrar. Regla de acero en ambas barras.",
        "Adattare alla pagina come alla taratura. Riga d’acciaio su entrambe le barre.",
        "Dopasować do strony jak przy kalibracji. Stalowa linijka na obu skalach.";
    /// Above the key plan.
    BlackHere:
        "black: on this sheet", "schwarz: auf diesem Blatt", "noir\u{a0}: sur cette feuille",
        "negro: en esta hoja", "nero: su questo foglio", "czarne: na tym arkuszu";
    /// {0}: the name of the print.
    PrintCode:
        "code {0}", "Code {0}", "code {0}", "código {0}", "codice {0}", "kod {0}";
    /// {0}: name of the printer.
    ForPrinter:
        "For printer {0}", "Für Drucker {0}", "Pour l’imprimante {0}",
        "Para la impresora {0}", "Per la stampante {0}", "Dla drukarki {0}";
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
        "tailles {0}\u{a0}: percer une rangée, couper sa pointe",
        "tallas {0}: perforar una fila, cortar su punta",
        "taglie {0}: forare una fila, tagliarne la punta",
        "rozmiary {0}: wybić jeden rząd, odciąć jego szpic";
    /// {0}: numbers of sheets, {1}: the print that they came with.
    WithSheet:
        "with sheet {0} of print {1}", "mit Blatt {0} aus Druck {1}",
        "avec la feuille {0} du tirage {1}", "con la hoja {0} de la impresión {1}",
        "con il foglio {0} della stampa {1}", "z arkuszem {0} wydruku {1}";
    /// {0}: the wearer.
    For: "for {0}", "für {0}", "pour {0}", "para {0}", "per {0}", "dla: {0}";
    /// {0}, {1}: two girths.
    GirthRange:
        "girth {0} to {1}", "Umfang {0} bis {1}", "tour de {0} à {1}",
        "contorno de {0} a {1}", "circonferenza da {0} a {1}", "obwód od {0} do {1}";
    /// {0}: two strips that are joined: `1 + 2`.
    Join:
        "JOIN {0}", "STOSS {0}", "RACCORD {0}", "UNIÓN {0}", "GIUNTA {0}", "ŁĄCZENIE {0}";
    /// In the overlap of the strip that lies above.
    CutOff: "cut off", "abschneiden", "à couper", "cortar", "tagliare", "odciąć";
    /// In the overlap of the strip that lies below. {0}: the strip above.
    UnderStrip:
        "under strip {0}", "unter Streifen {0}", "sous la bande {0}", "bajo la tira {0}",
        "sotto la striscia {0}", "pod paskiem {0}";
    /// The same on a narrow strap.
    UnderShort: "under {0}", "unter {0}", "sous {0}", "bajo {0}", "sotto {0}", "pod {0}";
    /// On the arrow at the first strip.
    StartHere: "START", "START", "DÉBUT", "INICIO", "INIZIO", "START";
    /// What to cut. {0}: length and width, {1}: thickness.
    CutSize:
        "cut {0}, {1} thick", "Zuschnitt {0}, {1} stark", "couper {0}, épaisseur {1}",
        "cortar {0}, grosor {1}", "tagliare {0}, spessore {1}", "ciąć {0}, grubość {1}";
    /// {0}: how many, {1}: their diameter.
    Pricks:
        "{0} pricks Ø {1}", "{0} Nahtlöcher Ø {1}", "{0} points Ø {1}",
        "{0} puntadas Ø {1}", "{0} punti Ø {1}", "{0} ściegów Ø {1}";
    /// In sentences about readings.
    InMm: "mm", "mm", "mm", "mm", "mm", "mm";
    /// The same in inches.
    InInches: "inches", "Zoll", "pouces", "pulgadas", "pollici", "calach";
    /// {0}, {1}: the two ends of the long check, {2}: how far they are apart.
    Joined:
        "Joined, {0} to {1}: {2}", "Verbunden, {0} bis {1}: {2}",
        "Assemblé, {0} à {1}\u{a0}: {2}", "Unido, {0} a {1}: {2}", "Unito, {0} a {1}: {2}",
        "Złączone, {0} do {1}: {2}";
    /// In the place of the long check.
    NoJoins:
        "No joins", "Keine Stöße", "Sans raccord", "Sin uniones", "Senza giunte",
        "Bez łączeń";
    /// {0}: what may be read.
    Accept:
        "accept {0}", "zulässig {0}", "accepter {0}", "aceptar {0}", "accettare {0}",
        "dopuszczalne {0}";
    /// {0}, {1}: two readings.
    FromTo: "{0} to {1}", "{0} bis {1}", "{0} à {1}", "{0} a {1}", "{0} a {1}", "{0} do {1}";
    /// Below a scale bar. {0}: its length.
    BarIs:
        "This bar is {0}", "Dieser Balken ist {0}", "Cette barre fait {0}",
        "Esta barra mide {0}", "Questa barra misura {0}", "Ta skala ma {0}";
    /// How to join, the first step.
    JoinCutOff:
        "Cut off the hatched end", "Schraffiertes Ende abschneiden", "Couper le bout hachuré",
        "Cortar el extremo rayado", "Tagliare il capo tratteggiato", "Odciąć kreskowany koniec";
    /// How to join, the second step.
    JoinLayOn:
        "Lay join sign on join sign", "Zeichen auf Zeichen legen", "Poser signe sur signe",
        "Poner señal sobre señal", "Porre segno su segno", "Położyć znak na znak";
    /// How to join, the third step.
    JoinTape:
        "Tape. Go on to the next", "Kleben. Dann der nächste", "Scotcher. Au suivant",
        "Pegar. Luego el siguiente", "Incollare. Poi il prossimo", "Skleić. Potem następny";
    /// In the place of the foot.
    SeeTicket:
        "How to join, and all signs: see the ticket.",
        "Zusammenfügen und alle Zeichen: siehe Arbeitszettel.",
        "Assemblage et tous les signes\u{a0}: voir la fiche.",
        "Cómo unir y todas las señales: véase la hoja de trabajo.",
        "Come unire e tutti i segni: vedi la scheda.",
        "Łączenie i wszystkie znaki: patrz karta pracy.";
    /// Meaning of a sign.
    SignPunch:
        "prick and punch", "anstechen und lochen", "piquer et percer", "marcar y perforar",
        "segnare e forare", "nakłuć i wybić";
    /// Meaning of a sign.
    SignJoin:
        "join sign", "Fügezeichen", "signe de raccord", "señal de unión", "segno di giunta",
        "znak łączenia";
    /// Meaning of a sign.
    SignCheck:
        "long check, A to B", "lange Probe, A bis B", "contrôle long, A à B",
        "control largo, A a B", "controllo lungo, A a B", "długa próba, A do B";
    /// Meaning of a sign.
    SignCut: "cut", "schneiden", "couper", "cortar", "tagliare", "ciąć";
    /// Meaning of a sign.
    SignBend:
        "bend, no cut", "Biegung, kein Schnitt", "pli, ne pas couper", "pliegue, no cortar",
        "piega, non tagliare", "zgięcie, nie ciąć";
    /// Meaning of a sign.
    SignHere:
        "strip on this sheet", "Streifen auf diesem Blatt", "bande sur cette feuille",
        "tira en esta hoja", "striscia su questo foglio", "pasek na tym arkuszu";
    /// Meaning of a sign.
    SignCutOff:
        "cut off before joining", "vor dem Fügen abschneiden", "couper avant d’assembler",
        "cortar antes de unir", "tagliare prima di unire", "odciąć przed łączeniem";
    /// Meaning of a sign.
    SignElsewhere:
        "strip on another sheet", "Streifen auf anderem Blatt", "bande sur autre feuille",
        "tira en otra hoja", "striscia su altro foglio", "pasek na innym arkuszu";
    /// Meaning of a sign.
    SignPrick:
        "stitch: prick only", "Naht: nur anstechen", "couture\u{a0}: piquer seulement",
        "costura: solo marcar", "cucitura: solo segnare", "szew: tylko nakłuć";
    /// Meaning of a sign.
    SignCentre:
        "middle of the strap", "Mitte des Riemens", "milieu de la sangle",
        "centro de la correa", "mezzeria della cinghia", "środek paska";
    /// Heading on the ticket.
    Signs: "Signs", "Zeichen", "Signes", "Señales", "Segni", "Znaki";
    /// Heading on the ticket.
    JoinStrips:
        "Join the strips in order: 1 + 2, then 3 …", "Streifen fügen: 1 + 2, dann 3 …",
        "Assembler les bandes\u{a0}: 1 + 2, puis 3 …", "Unir las tiras: 1 + 2, luego 3 …",
        "Unire le strisce: 1 + 2, poi 3 …", "Łączyć paski: 1 + 2, potem 3 …";
    /// Heading on the ticket.
    PunchesTrueSize:
        "Punches, true size", "Locheisen, wahre Größe", "Emporte-pièces, taille réelle",
        "Sacabocados, tamaño real", "Fustelle, misura reale", "Wybijaki, rozmiar rzeczywisty";
}
