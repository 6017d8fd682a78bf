//! Names that the program's own templates give to features and pieces, what they serve and
//! what they are called. In English they stand as the job's keys are written.

use super::{Word, phrases};

phrases! {
    /// A feature, a piece or a stamp.
    NamedSizeHoles:
        "size-holes", "Verstelllöcher", "trous de réglage", "agujeros de ajuste",
        "fori di regolazione", "otwory regulacyjne";
    /// A feature, a piece or a stamp.
    NamedTurnBack: "turn-back", "Umschlag", "retour", "doblez", "risvolto", "zawinięcie";
    /// A feature, a piece or a stamp.
    NamedFold: "fold", "Umschlag", "repli", "doblez", "risvolto", "zawinięcie";
    /// A feature, a piece or a stamp.
    NamedFittings: "fittings", "Zierteile", "garnitures", "adornos", "borchie", "ozdoby";
    /// A feature, a piece or a stamp.
    NamedFrog: "frog", "Gehänge", "porte-épée", "portaespada", "portaspada", "żabka";
    /// A feature, a piece or a stamp.
    NamedAdjustment:
        "adjustment", "Verstellung", "réglage", "ajuste", "regolazione", "regulacja";
    /// A feature, a piece or a stamp.
    NamedBuckleFold:
        "buckle-fold", "Schnallenumschlag", "repli de boucle", "doblez de hebilla",
        "risvolto della fibbia", "zawinięcie klamry";
    /// A feature, a piece or a stamp.
    NamedBuckleRing:
        "buckle-ring", "Ring am Schnallenteil", "anneau côté boucle",
        "anilla lado hebilla", "anello lato fibbia", "kółko od klamry";
    /// A feature, a piece or a stamp.
    NamedHoleRing:
        "hole-ring", "Ring am Lochteil", "anneau côté trous", "anilla lado agujeros",
        "anello lato fori", "kółko od otworów";
    /// A feature, a piece or a stamp.
    NamedFrontRing:
        "front-ring", "Ring vorn", "anneau avant", "anilla delantera", "anello davanti",
        "kółko z przodu";
    /// A feature, a piece or a stamp.
    NamedFrontHoles:
        "front-holes", "Löcher vorn", "trous avant", "agujeros delanteros",
        "fori davanti", "otwory z przodu";
    /// A feature, a piece or a stamp.
    NamedBackRing:
        "back-ring", "Ring hinten", "anneau arrière", "anilla trasera", "anello dietro",
        "kółko z tyłu";
    /// A feature, a piece or a stamp.
    NamedBackHoles:
        "back-holes", "Löcher hinten", "trous arrière", "agujeros traseros", "fori dietro",
        "otwory z tyłu";
    /// A feature, a piece or a stamp.
    NamedTabFold:
        "tab-fold", "Umschlag der Lasche", "repli de patte", "doblez de la lengüeta",
        "risvolto della linguetta", "zawinięcie patki";
    /// A feature, a piece or a stamp.
    NamedNeckFold:
        "neck-fold", "Umschlag am Nacken", "repli de cou", "doblez del cuello",
        "risvolto del collo", "zawinięcie na karku";
    /// A feature, a piece or a stamp.
    NamedSnap: "snap", "Druckknopf", "pression", "broche", "automatico", "zatrzask";
    /// A feature, a piece or a stamp.
    NamedNearSnap:
        "near-snap", "Druckknopf an der Schnalle", "pression côté boucle",
        "broche junto a la hebilla", "automatico presso la fibbia", "zatrzask przy klamrze";
    /// A feature, a piece or a stamp.
    NamedFarSnap:
        "far-snap", "Druckknopf hinter der Schlaufe", "pression après le passant",
        "broche tras la trabilla", "automatico dopo il passante", "zatrzask za szlufką";
    /// A feature, a piece or a stamp.
    NamedBodyStart:
        "body-start", "Mittelteil an der Schnalle", "corps côté boucle",
        "cuerpo lado hebilla", "corpo lato fibbia", "część środkowa od klamry";
    /// A feature, a piece or a stamp.
    NamedBodyEnd:
        "body-end", "Mittelteil an den Löchern", "corps côté trous",
        "cuerpo lado agujeros", "corpo lato fori", "część środkowa od otworów";
    /// A feature, a piece or a stamp.
    NamedBuckleRivets:
        "buckle-rivets", "Nieten am Schnallenriemen", "rivets côté boucle",
        "remaches lado hebilla", "rivetti lato fibbia", "nity od klamry";
    /// A feature, a piece or a stamp.
    NamedHoleRivets:
        "hole-rivets", "Nieten am Lochriemen", "rivets côté trous",
        "remaches lado agujeros", "rivetti lato fori", "nity od otworów";
    /// A feature, a piece or a stamp.
    NamedTabButton:
        "tab-button", "Knopfloch", "boutonnière", "ojal", "asola del bottone",
        "dziurka na guzik";
    /// A feature, a piece or a stamp.
    NamedTabStart:
        "tab-start", "Umschlag der Lasche", "repli de patte", "doblez de la lengüeta",
        "risvolto della linguetta", "zawinięcie patki";
    /// A feature, a piece or a stamp.
    NamedNeckPatch:
        "neck-patch", "Naht am Nacken", "couture de cou", "costura del cuello",
        "cucitura del collo", "szew na karku";
    /// A feature, a piece or a stamp.
    NamedNeckSlits:
        "neck-slits", "Knopflöcher am Nacken", "boutonnières de cou",
        "ojales del cuello", "asole del collo", "dziurki na karku";
    /// A feature, a piece or a stamp.
    NamedWaistPatch:
        "waist-patch", "Naht an der Taille", "couture de taille", "costura de cintura",
        "cucitura in vita", "szew w talii";
    /// A feature, a piece or a stamp.
    NamedEdgeStitch:
        "edge-stitch", "Randnaht", "couture de bord", "costura del borde",
        "cucitura del bordo", "szew brzegowy";
    /// A feature, a piece or a stamp.
    NamedFirstRing:
        "first-ring", "erster Ring", "premier anneau", "primera anilla", "primo anello",
        "pierwsze kółko";
    /// A feature, a piece or a stamp.
    NamedSecondRing:
        "second-ring", "zweiter Ring", "second anneau", "segunda anilla",
        "secondo anello", "drugie kółko";
    /// A feature, a piece or a stamp.
    NamedHoles: "holes", "Löcher", "trous", "agujeros", "fori", "otwory";
    /// A feature, a piece or a stamp.
    NamedMoreHoles:
        "more-holes", "weitere Löcher", "autres trous", "más agujeros", "altri fori",
        "dalsze otwory";
    /// A feature, a piece or a stamp.
    NamedLongRivet:
        "long-rivet", "Niete am langen Teil", "rivet de la partie longue",
        "remache de la parte larga", "rivetto della parte lunga", "nit części długiej";
    /// A feature, a piece or a stamp.
    NamedShortRivet:
        "short-rivet", "Niete am kurzen Teil", "rivet de la partie courte",
        "remache de la parte corta", "rivetto della parte corta", "nit części krótkiej";
    /// A feature, a piece or a stamp.
    NamedShortFold:
        "short-fold", "Umschlag am kurzen Teil", "repli de la partie courte",
        "doblez de la parte corta", "risvolto della parte corta",
        "zawinięcie części krótkiej";
    /// A feature, a piece or a stamp.
    NamedSnaps: "snaps", "Druckknöpfe", "pressions", "broches", "automatici", "zatrzaski";
    /// A feature, a piece or a stamp.
    NamedRingFastener:
        "ring-fastener", "Niete am Ring", "rivet de l’anneau", "remache de la anilla",
        "rivetto dell’anello", "nit przy kółku";
    /// A feature, a piece or a stamp.
    NamedRear: "rear", "hinten", "arrière", "detrás", "dietro", "z tyłu";
    /// A feature, a piece or a stamp.
    NamedTail: "tail", "Ende mit Knopflöchern", "queue", "cola", "coda", "ogon";
    /// A feature, a piece or a stamp.
    NamedClasp: "clasp", "Verschluss", "fermoir", "cierre", "chiusura", "zapięcie";
    /// A feature, a piece or a stamp.
    NamedFirstColumn:
        "first-column", "erste Spalte", "première colonne", "primera columna",
        "prima colonna", "pierwsza kolumna";
    /// A feature, a piece or a stamp.
    NamedOtherColumn:
        "other-column", "andere Spalte", "autre colonne", "otra columna",
        "altra colonna", "druga kolumna";
    /// A feature, a piece or a stamp.
    NamedHook: "hook", "Haken", "crochet", "gancho", "gancio", "hak";
    /// A feature, a piece or a stamp.
    NamedLoopStitch:
        "loop-stitch", "Naht der Handschlaufe", "couture de la poignée",
        "costura del asa", "cucitura della maniglia", "szew uchwytu";
    /// A feature, a piece or a stamp.
    NamedLongStitch:
        "long-stitch", "Naht am langen Teil", "couture de la partie longue",
        "costura de la parte larga", "cucitura della parte lunga", "szew części długiej";
    /// A feature, a piece or a stamp.
    NamedShortStitch:
        "short-stitch", "Naht am kurzen Teil", "couture de la partie courte",
        "costura de la parte corta", "cucitura della parte corta",
        "szew części krótkiej";
    /// A feature, a piece or a stamp.
    NamedBuckleStitch:
        "buckle-stitch", "Naht an der Schnalle", "couture de la boucle",
        "costura de la hebilla", "cucitura della fibbia", "szew przy klamrze";
    /// A piece that many jobs have.
    PieceStrap: "strap", "Riemen", "courroie", "correa", "cinghia", "pasek";
    /// A piece that many jobs have.
    PieceKeeper: "keeper", "Schlaufe", "passant", "trabilla", "passante", "szlufka";
    /// A piece that many jobs have.
    PieceLining: "lining", "Futter", "doublure", "forro", "fodera", "podszewka";
    /// A feature, a piece or a stamp.
    NamedNeckStrap:
        "neck-strap", "Nackenriemen", "courroie de cou", "correa de cuello",
        "cinghia da collo", "pasek na kark";
    /// A feature, a piece or a stamp.
    NamedNeckTab:
        "neck-tab", "Lasche am Latz", "patte de bavette", "lengüeta del peto",
        "linguetta della pettorina", "patka przy karczku";
    /// A feature, a piece or a stamp.
    NamedBody:
        "body", "Mittelteil", "corps", "cuerpo", "corpo", "część środkowa";
    /// A feature, a piece or a stamp.
    NamedBuckleBillet:
        "buckle-billet", "Schnallenriemen", "contre-sanglon boucle",
        "latiguillo de la hebilla", "riscontro con fibbia", "pasek z klamrą";
    /// A feature, a piece or a stamp.
    NamedHoleBillet:
        "hole-billet", "Lochriemen", "contre-sanglon trous", "latiguillo de agujeros",
        "riscontro con fori", "pasek z otworami";
    /// A feature, a piece or a stamp.
    NamedWaistStrap:
        "waist-strap", "Taillenriemen", "courroie de taille", "correa de cintura",
        "cinghia da vita", "pasek w talii";
    /// A feature, a piece or a stamp.
    NamedBucklePart:
        "buckle-part", "Schnallenteil", "partie boucle", "parte de la hebilla",
        "parte con fibbia", "część z klamrą";
    /// A feature, a piece or a stamp.
    NamedHolePart:
        "hole-part", "Lochteil", "partie trous", "parte de agujeros", "parte con fori",
        "część z otworami";
    /// A feature, a piece or a stamp.
    NamedFront: "front", "Vorderteil", "devant", "delantero", "davanti", "przód";
    /// A feature, a piece or a stamp.
    NamedBack: "back", "Rückenteil", "dos", "espalda", "dietro", "tył";
    /// A feature, a piece or a stamp.
    NamedTab: "tab", "Lasche", "patte", "lengüeta", "linguetta", "patka";
    /// A feature, a piece or a stamp.
    NamedLongPart:
        "long-part", "langer Teil", "partie longue", "parte larga", "parte lunga",
        "część długa";
    /// A feature, a piece or a stamp.
    NamedShortPart:
        "short-part", "kurzer Teil", "partie courte", "parte corta", "parte corta",
        "część krótka";
    /// What a strap serves.
    ServesNeckStrap:
        "neck strap", "Nackenriemen", "courroie de cou", "correa de cuello",
        "cinghia da collo", "pasek na kark";
    /// What a strap serves.
    ServesWornLength:
        "worn length", "getragene Länge", "longueur portée", "largo puesto",
        "lunghezza indossata", "długość noszenia";
    /// What a strap serves.
    ServesWornLoop:
        "worn loop", "getragene Schlinge", "tour porté", "vuelta puesta",
        "circonferenza indossata", "obwód noszenia";
    /// What a strap serves.
    ServesFrontStrapRingToHole:
        "front strap, ring to hole", "Vorderteil, Ring bis Loch",
        "devant, de l’anneau au trou", "delantero, de la anilla al agujero",
        "davanti, dall’anello al foro", "przód, od kółka do otworu";
    /// What a strap serves.
    ServesBundleGirth:
        "bundle girth", "Umfang des Bündels", "tour du ballot", "contorno del fardo",
        "circonferenza del fagotto", "obwód tobołka";
    /// What a strap serves.
    ServesRingToRing:
        "ring to ring", "Ring bis Ring", "d’anneau à anneau", "de anilla a anilla",
        "da anello ad anello", "od kółka do kółka";
    /// What a strap serves.
    ServesRivetToRivet:
        "rivet to rivet", "Niete bis Niete", "de rivet à rivet", "de remache a remache",
        "da rivetto a rivetto", "od nitu do nitu";
    /// What a strap serves.
    ServesGirth: "girth", "Umfang", "tour", "contorno", "circonferenza", "obwód";
    /// What a strap serves.
    ServesButtonToButton:
        "button to button", "Knopf bis Knopf", "de bouton à bouton", "de botón a botón",
        "da bottone a bottone", "od guzika do guzika";
    /// What a strap serves.
    ServesGirthLacedToTheGap:
        "girth, laced to the gap", "Umfang, bis auf den Spalt geschnürt",
        "tour, lacé jusqu’à l’écart", "contorno, atado hasta la abertura",
        "circonferenza, allacciata fino al varco", "obwód, po zasznurowaniu do szczeliny";
    /// What a strap serves.
    ServesFinishedLength:
        "finished length", "fertige Länge", "longueur finie", "largo terminado",
        "lunghezza finita", "długość gotowa";
    /// A feature, a piece or a stamp.
    NamedMakersMark:
        "maker's mark", "Herstellerzeichen", "marque du sellier", "marca del artesano",
        "marchio dell’artigiano", "znak rymarza";
    /// What is made, where the job has no title.
    TitleApronStraps:
        "Apron straps", "Schürzenriemen", "Courroies de tablier", "Correas de delantal",
        "Cinghie da grembiule", "Paski do fartucha";
    /// What is made, where the job has no title.
    TitleBagStrap:
        "Bag strap", "Taschenriemen", "Bandoulière", "Bandolera", "Tracolla",
        "Pasek do torby";
    /// What is made, where the job has no title.
    TitleBaldric: "Baldric", "Bandelier", "Baudrier", "Tahalí", "Bandoliera", "Bandolier";
    /// What is made, where the job has no title.
    TitleBelt: "Belt", "Gürtel", "Ceinture", "Cinturón", "Cintura", "Pas";
    /// What is made, where the job has no title.
    TitleBraces: "Braces", "Hosenträger", "Bretelles", "Tirantes", "Bretelle", "Szelki";
    /// What is made, where the job has no title.
    TitleBundleStrap:
        "Bundle strap", "Packriemen", "Courroie à ballot", "Correa de fardo",
        "Cinghia da fagotto", "Pasek do pakunku";
    /// What is made, where the job has no title.
    TitleCameraStrap:
        "Camera strap", "Kameragurt", "Courroie d’appareil photo", "Correa de cámara",
        "Tracolla per fotocamera", "Pasek do aparatu";
    /// What is made, where the job has no title.
    TitleChinStrap:
        "Chin strap", "Kinnriemen", "Jugulaire", "Barboquejo", "Sottogola",
        "Pasek podbródkowy";
    /// What is made, where the job has no title.
    TitleCuff:
        "Cuff", "Manschette", "Bracelet de force", "Muñequera", "Polsiera", "Mankiet";
    /// What is made, where the job has no title.
    TitleDogCollar:
        "Dog collar", "Hundehalsband", "Collier de chien", "Collar de perro",
        "Collare per cane", "Obroża";
    /// What is made, where the job has no title.
    TitleGarter:
        "Garter", "Strumpfband", "Jarretière", "Liga", "Giarrettiera", "Podwiązka";
    /// What is made, where the job has no title.
    TitleGuitarStrap:
        "Guitar strap", "Gitarrengurt", "Courroie de guitare", "Correa de guitarra",
        "Tracolla per chitarra", "Pasek do gitary";
    /// What is made, where the job has no title.
    TitleHatBand:
        "Hat band", "Hutband", "Tour de chapeau", "Cinta de sombrero",
        "Nastro da cappello", "Opaska kapelusza";
    /// What is made, where the job has no title.
    TitleKeyFob:
        "Key fob", "Schlüsselanhänger", "Porte-clés", "Llavero", "Portachiavi",
        "Brelok do kluczy";
    /// What is made, where the job has no title.
    TitleLacedCuff:
        "Laced cuff", "Geschnürte Manschette", "Brassard lacé", "Brazal con cordones",
        "Bracciale allacciato", "Karwasz sznurowany";
    /// What is made, where the job has no title.
    TitleLead: "Lead", "Leine", "Laisse", "Correa de paseo", "Guinzaglio", "Smycz";
    /// What is made, where the job has no title.
    TitleLinedBelt:
        "Lined belt", "Gefütterter Gürtel", "Ceinture doublée", "Cinturón forrado",
        "Cintura foderata", "Pas z podszewką";
    /// What is made, where the job has no title.
    TitleRangerBelt:
        "Ranger belt", "Ranger-Gürtel", "Ceinture ranger", "Cinturón ranger",
        "Cintura ranger", "Pas ranger";
    /// What is made, where the job has no title.
    TitleSizingStrap:
        "Sizing strap", "Maßriemen", "Courroie de mesure", "Correa de medir",
        "Cinghia di misura", "Pasek do mierzenia";
    /// What is made, where the job has no title.
    TitleSnapOnBelt:
        "Snap-on belt", "Gürtel mit Wechselschnalle", "Ceinture à boucle amovible",
        "Cinturón de hebilla intercambiable", "Cintura con fibbia intercambiabile",
        "Pas z wymienną klamrą";
    /// What is made, where the job has no title.
    TitleStrap: "Strap", "Riemen", "Courroie", "Correa", "Cinghia", "Pasek";
    /// What is made, where the job has no title.
    TitleTwoProngBelt:
        "Two-prong belt", "Zweidorngürtel", "Ceinture à deux ardillons",
        "Cinturón de dos clavillos", "Cintura a due ardiglioni", "Pas z dwoma kolcami";
    /// What is made, where the job has no title.
    TitleWatchStrap:
        "Watch strap", "Uhrarmband", "Bracelet de montre", "Correa de reloj",
        "Cinturino", "Pasek do zegarka";
}
