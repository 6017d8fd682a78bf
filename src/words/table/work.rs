//! The order of work, what to check before it, and the cautions.

use super::{Word, phrases};

phrases! {
    /// Step: cut the pieces of a strap that ends in a tip.
    StepCut:
        "Cut the pieces to length and width; the tip comes later.",
        "Teile auf Länge und Breite zuschneiden; die Spitze kommt später.",
        "Couper les pièces à longueur et largeur\u{a0}; la pointe vient plus tard.",
        "Cortar las piezas a largo y ancho; la punta viene después.",
        "Tagliare i pezzi a lunghezza e larghezza; la punta viene dopo.",
        "Wyciąć części na długość i szerokość; szpic później.";
    /// Step: cut the pieces of a strap whose ends are square.
    StepCutSquare:
        "Cut the pieces to length and width.", "Teile auf Länge und Breite zuschneiden.",
        "Couper les pièces à longueur et largeur.", "Cortar las piezas a largo y ancho.",
        "Tagliare i pezzi a lunghezza e larghezza.",
        "Wyciąć części na długość i szerokość.";
    /// Step: lay the print on a ready-cut blank that has holes.
    StepBlank:
        "Lay the paper on the blank. Line it up with the holes that are already there.",
        "Papier auf den Rohling legen. An den vorhandenen Löchern ausrichten.",
        "Poser le papier sur la bande prédécoupée. L’aligner sur les trous déjà faits.",
        "Poner el papel sobre la tira. Alinearlo con los agujeros que ya tiene.",
        "Posare la carta sulla striscia. Allinearla ai fori già presenti.",
        "Ułożyć papier na gotowym pasku. Dopasować go do otworów, które już w nim są.";
    /// Step: lay the print on a ready-cut blank without holes.
    StepBlankPlain:
        "Lay the paper on the blank.", "Papier auf den Rohling legen.",
        "Poser le papier sur la bande prédécoupée.", "Poner el papel sobre la tira.",
        "Posare la carta sulla striscia.", "Ułożyć papier na gotowym pasku.";
    /// Step: stamps, in their boxes.
    StepStamp:
        "Prick the corners of the boxes through the paper and lift it. Dampen the leather, stamp it in the boxes and let it dry.",
        "Ecken der Felder durch das Papier stechen, Papier abnehmen. Leder anfeuchten, in den Feldern prägen, trocknen lassen.",
        "Marquer les coins des cadres à travers le papier, puis l’ôter. Humidifier le cuir, l’estamper dans les cadres, laisser sécher.",
        "Marcar las esquinas de los recuadros a través del papel y quitarlo. Humedecer el cuero, estampar en los recuadros y dejar secar.",
        "Segnare gli angoli dei riquadri attraverso la carta e toglierla. Inumidire il cuoio, stamparlo nei riquadri, lasciare asciugare.",
        "Nakłuć przez papier rogi ramek i zdjąć papier. Zwilżyć skórę, wytłoczyć w ramkach i wysuszyć.";
    /// Step: line, before the holes that go through the lining.
    StepLining:
        "Cement the lining flesh to flesh, let it set, and trim it.",
        "Futter Fleisch auf Fleisch kleben, abbinden lassen, beschneiden.",
        "Coller la doublure chair contre chair, laisser prendre, araser.",
        "Pegar el forro carne con carne, dejar secar y recortar.",
        "Incollare la fodera carne contro carne, lasciar far presa e rifilare.",
        "Skleić podszewkę mizdrą do mizdry, odczekać i przyciąć.";
    /// Step: a lining that the holes do not go through.
    StepLiningTrimmed:
        "Cut the lining away round every hole. Cement it flesh to flesh, let it set, and trim it.",
        "Futter rund um jedes Loch ausschneiden. Fleisch auf Fleisch kleben, abbinden lassen, beschneiden.",
        "Découper la doublure autour de chaque trou. Coller chair contre chair, laisser prendre, araser.",
        "Recortar el forro alrededor de cada agujero. Pegar carne con carne, dejar secar y recortar.",
        "Tagliare via la fodera attorno a ogni foro. Incollare carne contro carne, lasciar far presa e rifilare.",
        "Wyciąć podszewkę wokół każdego otworu. Skleić mizdrą do mizdry, odczekać i przyciąć.";
    /// Step: mark.
    StepMark:
        "Tape the paper to the grain side. With the awl, prick every cross that lies in a hole.",
        "Papier auf der Narbenseite festkleben. Jedes Kreuz in einem Loch mit der Ahle stechen.",
        "Fixer le papier côté fleur. Marquer à l’alêne chaque croix placée dans un trou.",
        "Fijar el papel en el lado flor. Picar con la lezna cada cruz que esté en un agujero.",
        "Fissare la carta sul lato fiore. Segnare con la lesina ogni croce che sta in un foro.",
        "Przykleić papier po stronie lica. Nakłuć szydłem każdy krzyż leżący w otworze.";
    /// Step: make slots.
    StepSlots:
        "Punch the slots: a round hole at each end, and cuts between them.",
        "Langlöcher: an jedem Ende ein rundes Loch schlagen, dazwischen ausschneiden.",
        "Fentes\u{a0}: un trou rond à chaque bout, puis couper entre les deux.",
        "Ranuras: un agujero redondo en cada extremo y cortar entre ambos.",
        "Asole: un foro tondo a ogni estremità, poi tagliare tra i due.",
        "Szczeliny: okrągły otwór na każdym końcu, między nimi wyciąć.";
    /// Step: punch holes.
    StepHoles:
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
        "Marquer les trous de couture.", "Picar los agujeros de costura.",
        "Punzonare i fori di cucitura.", "Wykłuć otwory pod szew.";
    /// Step: cut the tip.
    StepTip:
        "Cut the ends along the thick line.", "Enden entlang der dicken Linie schneiden.",
        "Couper les bouts sur le trait fort.", "Cortar los extremos por la línea gruesa.",
        "Tagliare le estremità sulla linea spessa.", "Odciąć końce wzdłuż grubej linii.";
    /// Step: cut the tip of a nested print, on which only the longest tip is thick.
    StepTipOfSize:
        "Cut the tip of your size along its own line.",
        "Spitze der gewählten Größe entlang ihrer eigenen Linie schneiden.",
        "Couper la pointe de la taille choisie sur son propre trait.",
        "Cortar la punta de la talla elegida por su propia línea.",
        "Tagliare la punta della taglia scelta lungo la sua linea.",
        "Odciąć szpic wybranego rozmiaru wzdłuż jego własnej linii.";
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
        "Parer le retour côté chair sur les derniers {0}.",
        "Rebajar el doblez por el lado carne en los últimos {0}.",
        "Scarnire il risvolto sul lato carne per gli ultimi {0}.",
        "Zszarfować zawinięcie od strony mizdry na ostatnich {0}.";
    /// Step: skive several folds.
    StepSkiveEach:
        "Skive the flesh side of every turn-back over its last third.",
        "Jeden Umschlag fleischseitig im letzten Drittel schärfen.",
        "Parer chaque retour côté chair sur le dernier tiers.",
        "Rebajar cada doblez por el lado carne en el último tercio.",
        "Scarnire ogni risvolto sul lato carne nell’ultimo terzo.",
        "Zszarfować każde zawinięcie od strony mizdry w ostatniej trzeciej części.";
    /// Step: skive where turn-backs bear load.
    StepSkivePast:
        "Skive the flesh side of each turn-back only past its last fastener.",
        "Jeden Umschlag fleischseitig nur hinter der letzten Niete schärfen.",
        "Parer chaque retour côté chair seulement au-delà du dernier rivet.",
        "Rebajar cada doblez por el lado carne solo más allá del último remache.",
        "Scarnire ogni risvolto sul lato carne solo oltre l’ultimo rivetto.",
        "Zszarfować każde zawinięcie od strony mizdry tylko za ostatnim nitem.";
    /// Step: creases, which are the thin lines along the edge or across.
    StepCrease:
        "Crease along the thin lines.",
        "Entlang der dünnen Linien reifeln.",
        "Fileter le long des traits fins.",
        "Filetear a lo largo de las líneas finas.",
        "Filettare lungo le linee sottili.",
        "Wycisnąć linie ozdobne wzdłuż cienkich linii.";
    /// Step: edges and dye.
    StepDye:
        "Bevel the edges, dye, and let dry.",
        "Kanten brechen, färben, trocknen lassen.",
        "Abattre les carres, teindre, laisser sécher.",
        "Biselar los cantos, teñir y dejar secar.",
        "Smussare i bordi, tingere e lasciare asciugare.",
        "Sfazować krawędzie, barwić i wysuszyć.";
    /// Step: finish, before any metal is on.
    StepFinish:
        "Apply the finish and let it cure.",
        "Finish auftragen und aushärten lassen.",
        "Appliquer la finition et laisser durcir.",
        "Aplicar el acabado y dejar secar.",
        "Applicare la finitura e lasciare asciugare.",
        "Nałożyć wykończenie i pozostawić do utwardzenia.";
    /// Step: the keeper.
    StepKeeper:
        "Stitch or staple each keeper into a loop; put it in before the fold is closed.",
        "Jede Schlaufe zum Ring nähen oder heften; vor dem Schließen des Umschlags einsetzen.",
        "Coudre ou agrafer chaque passant en anneau\u{a0}; le placer avant de fermer le retour.",
        "Coser o grapar cada trabilla en aro; ponerla antes de cerrar el doblez.",
        "Cucire o graffare ogni passante ad anello; inserirlo prima di chiudere il risvolto.",
        "Zszyć lub spiąć każdą szlufkę w pętlę; włożyć przed zamknięciem zawinięcia.";
    /// Step: screw posts, before the first is set.
    StepThreadLock:
        "Give each screw post a drop of thread lock as you set it.",
        "Jeder Buchschraube beim Setzen einen Tropfen Schraubensicherung geben.",
        "Mettre une goutte de frein-filet sur chaque vis de reliure à la pose.",
        "Poner una gota de fijador de roscas en cada tornillo de unión al colocarlo.",
        "Mettere una goccia di frenafiletti su ogni vite a colonna al montaggio.",
        "Dać kroplę kleju do gwintów na każdą śrubę kaletniczą przy osadzaniu.";
    /// Step: folds that fasteners hold.
    StepSet:
        "Fold round the buckle, ring or hook, and set the fasteners.",
        "Um Schnalle, Ring oder Haken legen, Nieten setzen.",
        "Replier autour de la boucle, de l’anneau ou du crochet et poser les rivets.",
        "Doblar sobre la hebilla, anilla o gancho y poner los remaches.",
        "Piegare sulla fibbia, sull’anello o sul gancio, mettere i rivetti.",
        "Zawinąć na klamrze, kółku lub haku i osadzić nity.";
    /// Step: folds that are stitched.
    StepFold:
        "Fold round the buckle, ring or bar.", "Um Schnalle, Ring oder Steg legen.",
        "Replier autour de la boucle, de l’anneau ou de la barrette.",
        "Doblar sobre la hebilla, anilla o barra.",
        "Piegare sulla fibbia, sull’anello o sulla barra.",
        "Zawinąć na klamrze, kółku lub pręcie.";
    /// Step: stitch.
    StepStitch:
        "Stitch the seams.", "Nähte nähen.", "Coudre les coutures.", "Coser las costuras.",
        "Cucire le cuciture.", "Zszyć szwy.";
    /// Step: the edges, once nothing more is sewn.
    StepBurnish:
        "Burnish the edges.", "Kanten polieren.", "Lisser les tranches.",
        "Bruñir los cantos.", "Lucidare i bordi.", "Wypolerować krawędzie.";
    /// Step: what else is set, past the folds.
    StepSetRest:
        "Set the fittings and other hardware last.",
        "Zierteile und übrige Beschläge zuletzt setzen.",
        "Poser les garnitures et le reste en dernier.",
        "Colocar al final los adornos y demás herrajes.",
        "Montare per ultime le borchie e l’altra minuteria.",
        "Na końcu osadzić ozdoby i pozostałe okucia.";
    /// Step: set the hardware of a strap without a fold.
    StepSetPlain:
        "Set the hardware.", "Beschläge setzen.", "Poser la quincaillerie.",
        "Colocar los herrajes.", "Montare la minuteria.", "Osadzić okucia.";
    /// Step: try on what is worn.
    StepTryOn:
        "Try the strap on.", "Anprobieren.", "Essayer.", "Probar.", "Provare.",
        "Przymierzyć.";
    /// Check: the bars.
    CheckBars:
        "Both scale bars of every sheet read what stands beside them; all corner angles are there.",
        "Beide Maßstäbe jedes Blattes messen, was daneben steht; alle Eckwinkel sind da.",
        "Les deux échelles de chaque feuille mesurent ce qui est écrit à côté\u{a0}; tous les coins y sont.",
        "Las dos escalas de cada hoja miden lo escrito al lado; están todas las esquinas.",
        "Le due scale di ogni foglio misurano quanto scritto accanto; ci sono tutti gli angoli.",
        "Obie skale na każdym arkuszu mają miarę podaną obok; widać wszystkie narożniki.";
    /// Check: the hardware itself, with a buckle.
    CheckHardware:
        "Your own hardware is measured: bar, reach, tongue, posts.",
        "Die eigenen Beschläge sind gemessen: Steg, Dorn, Schäfte.",
        "La quincaillerie réelle est mesurée\u{a0}: barrette, ardillon, tiges.",
        "Los herrajes reales están medidos: barra, clavillo, vástagos.",
        "La minuteria vera è misurata: barra, ardiglione, gambi.",
        "Własne okucia zmierzone: pręt, kolec, trzpienie.";
    /// Check: the hardware itself, without a buckle.
    CheckHardwarePlain:
        "Your own hardware is measured.", "Die eigenen Beschläge sind gemessen.",
        "La quincaillerie réelle est mesurée.", "Los herrajes reales están medidos.",
        "La minuteria vera è misurata.", "Własne okucia są zmierzone.";
    /// What the job leaves to its template. {0}: key, {1}: value, {2}: how far a hole moves.
    AssumedOne:
        "{0} {1} (1 mm moves a hole by {2} mm)",
        "{0} {1} (1 mm verschiebt ein Loch um {2} mm)",
        "{0} {1} (1 mm déplace un trou de {2} mm)",
        "{0} {1} (1 mm mueve un agujero {2} mm)",
        "{0} {1} (1 mm sposta un foro di {2} mm)",
        "{0} {1} (1 mm przesuwa otwór o {2} mm)";
    /// The same in a line. {0}: the measures.
    Assumed:
        "assumed: {0}. Measure yours.",
        "angenommen: {0}. Bitte selbst messen.",
        "supposé\u{a0}: {0}. Mesurez les vôtres.",
        "supuesto: {0}. Mida los suyos.",
        "presunto: {0}. Misurate i vostri.",
        "przyjęto: {0}. Zmierz swoje.";
    /// On the first sheet. {0}: the buckle with its measures.
    ComputedFor:
        "Computed for: {0}.", "Berechnet für: {0}.", "Calculé pour\u{a0}: {0}.",
        "Calculado para: {0}.", "Calcolato per: {0}.", "Obliczono dla: {0}.";
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
        "Couper loin du corps sur un tapis ferme\u{a0}; lunettes et support de frappe pour percer.",
        "Cortar lejos del cuerpo sobre base firme; gafas y base al perforar.",
        "Tagliare lontano dal corpo su base ferma; occhiali e base quando si fustella.",
        "Ciąć od siebie na twardej macie; przy wybijaniu okulary i podkład.";
    /// Caution: cement and finish.
    CautionFumes:
        "Ventilate cement and finish, no flame near them; read their data sheets.",
        "Bei Kleber und Finish lüften, keine Flamme; Sicherheitsdatenblätter lesen.",
        "Aérer colle et finition, pas de flamme\u{a0}; lire les fiches de sécurité.",
        "Ventilar cola y acabado, sin llamas; leer las fichas de seguridad.",
        "Arieggiare colla e finitura, niente fiamme; leggere le schede di sicurezza.",
        "Wietrzyć przy kleju i wykończeniu, bez ognia; czytać karty charakterystyki.";
    /// Caution: no load.
    CautionLoad:
        "Not rated: not for lifting, fall arrest, climbing, restraint or riding.",
        "Ohne geprüfte Tragfähigkeit: nicht für Heben, Absturzsicherung, Klettern, Fixieren, Reiten.",
        "Sans charge garantie\u{a0}: ni levage, ni antichute, ni escalade, ni contention, ni équitation.",
        "Sin carga garantizada: ni elevación, ni anticaídas, ni escalada, ni sujeción, ni equitación.",
        "Senza portata garantita: né sollevamento, né anticaduta, né arrampicata, né contenzione, né equitazione.",
        "Bez gwarantowanej nośności: nie do podnoszenia, asekuracji, wspinaczki, krępowania ani jazdy konnej.";
    /// Caution: skin.
    CautionSkin:
        "On skin: nickel (REACH XVII 27, EN 1811), chromium VI (REACH XVII 47, EN ISO 17075).",
        "Auf Haut: Nickel (REACH XVII 27, EN 1811), Chrom VI (REACH XVII 47, EN ISO 17075).",
        "Sur la peau\u{a0}: nickel (REACH XVII 27, EN 1811), chrome VI (REACH XVII 47, EN ISO 17075).",
        "En la piel: níquel (REACH XVII 27, EN 1811), cromo VI (REACH XVII 47, EN ISO 17075).",
        "Sulla pelle: nichel (REACH XVII 27, EN 1811), cromo VI (REACH XVII 47, EN ISO 17075).",
        "Na skórze: nikiel (REACH XVII 27, EN 1811), chrom VI (REACH XVII 47, EN ISO 17075).";
    /// Caution: what bears load.
    CautionTested:
        "Bears load: tested hardware, and your own load test well past what it will carry.",
        "Trägt Last: geprüfte Beschläge und eine eigene Belastungsprobe weit über den Gebrauch hinaus.",
        "Porte une charge\u{a0}: quincaillerie éprouvée et propre essai de charge, bien au-delà de l’usage.",
        "Soporta carga: herrajes ensayados y prueba de carga propia, muy por encima del uso.",
        "Porta un carico: minuteria collaudata e prova di carico propria, ben oltre l’uso.",
        "Przenosi obciążenie: sprawdzone okucia i własna próba obciążenia, znacznie ponad użycie.";
    /// Caution: dogs.
    CautionDog:
        "Leave no dog alone in a collar or on a lead that is new or being tried.",
        "Keinen Hund mit neuem oder probeweise angelegtem Halsband oder an neuer Leine allein lassen.",
        "Ne pas laisser seul un chien dont le collier ou la laisse est neuf ou à l’essai.",
        "No dejar solo a un perro con collar o correa nuevos o de prueba.",
        "Non lasciare solo un cane con collare o guinzaglio nuovi o in prova.",
        "Nie zostawiać psa samego w nowej lub przymierzanej obroży ani na nowej smyczy.";
    /// Caution: helmets.
    CautionHelmet:
        "Not for a protective helmet: this chin strap is for costume only.",
        "Nicht für Schutzhelme: Dieser Kinnriemen ist nur für Kostüme.",
        "Pas pour un casque de protection\u{a0}: cette jugulaire est pour le costume seul.",
        "No para un casco protector: este barboquejo es solo para vestuario.",
        "Non per un casco protettivo: questo sottogola è solo per costumi.",
        "Nie do hełmu ochronnego: ten pasek podbródkowy jest tylko do kostiumu.";
    /// Caution: machines.
    CautionNeck:
        "Near machines a strap at the neck needs a fastening that breaks away.",
        "An Maschinen braucht ein Riemen am Hals einen Verschluss, der unter Zug nachgibt.",
        "Près des machines, une courroie au cou doit avoir une attache qui cède.",
        "Cerca de máquinas, una correa al cuello necesita un cierre que ceda.",
        "Vicino a macchine una cinghia al collo deve avere una chiusura che cede.",
        "Przy maszynach pasek na szyi musi mieć zapięcie, które puszcza.";
    /// Caution: children.
    CautionChildren:
        "Children’s clothing: EN 14682; small parts come off, keep them from infants.",
        "Kinderkleidung: EN 14682; Kleinteile lösen sich, von Kleinkindern fernhalten.",
        "Vêtements d’enfant\u{a0}: EN 14682\u{a0}; petites pièces hors de portée des bébés.",
        "Ropa infantil: EN 14682; piezas pequeñas lejos de los bebés.",
        "Abiti per bambini: EN 14682; parti piccole lontano dai neonati.",
        "Odzież dziecięca: EN 14682; drobne części z dala od niemowląt.";
}
