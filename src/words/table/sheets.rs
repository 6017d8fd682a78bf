//! What stands on the strap's sheets: their heads, their bars, the words at joins.

use super::{Word, phrases};

phrases! {
    /// Before the number of a sheet.
    Sheet: "sheet", "Blatt", "feuille", "hoja", "foglio", "arkusz";
    /// At the head of every sheet.
    PrintAtFull:
        "Print at 100 %, no fitting to page", "Mit 100 % drucken, nicht an Seite anpassen",
        "Imprimer à 100\u{a0}%, sans ajuster à la page", "Imprimir al 100 %, sin ajustar a la página",
        "Stampare al 100 %, senza adattare alla pagina", "Drukować w skali 100 %, bez dopasowania do strony";
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
        "tailles {0}\u{a0}: percer une rangée, couper sa pointe",
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
        "last hole then {0}", "letztes Loch dann {0}", "dernier trou alors à {0}",
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
        "girth {0} to {1}", "Umfang {0} bis {1}", "tour de {0} à {1}",
        "contorno de {0} a {1}", "circonferenza da {0} a {1}", "obwód od {0} do {1}";
    /// {0}: the number of a join.
    Join:
        "join {0}", "Stoß {0}", "raccord {0}", "unión {0}", "giunta {0}", "łączenie {0}";
    /// {0}, {1}: two crosses, {2}: their distance, {3}, {4}: what may be read.
    CheckEnds:
        "cross {0} to cross {1}: {2}; accept {3} to {4}",
        "Kreuz {0} bis Kreuz {1}: {2}; zulässig {3} bis {4}",
        "croix {0} à croix {1}\u{a0}: {2}\u{a0}; accepter de {3} à {4}",
        "cruz {0} a cruz {1}: {2}; aceptar de {3} a {4}",
        "croce {0} a croce {1}: {2}; accettare da {3} a {4}",
        "od krzyża {0} do krzyża {1}: {2}; dopuszczalne od {3} do {4}";
    /// Beside a scale bar. {0}, {1}: what may be read on it.
    AcceptOnBar:
        "accept {0} to {1}", "zulässig {0} bis {1}", "accepter de {0} à {1}",
        "aceptar de {0} a {1}", "accettare da {0} a {1}", "dopuszczalne od {0} do {1}";
}
