# The words on paper, in English. Each phrase has its remark here; the other languages follow in the
# same order.

## The sheets.

# $number: the number of the sheet, $count: how many there are.
SheetOf = SHEET { $number } of { $count }
# First on every sheet.
PrintAtFull = PRINT AT 100 %
# First on sheets for a printer that cannot but fit to the page.
PrintFitted = PRINT FITTED TO PAGE
# What to do with a print.
NoFitting = No “fit to page”. Then lay a steel ruler on both bars. If one is off, do not punch: print again.
# The same in short, for a print that is corrected.
NoFittingShort = No “fit to page”. Lay a steel ruler on both bars.
# The same for a printer that cannot but fit to the page.
FitAgain = Fit to page as when it was calibrated. Lay a steel ruler on both bars.
# Above the key plan.
BlackHere = black: on this sheet
# $code: the name of the print.
PrintCode = code { $code }
# $printer: name of the printer.
ForPrinter = For printer { $printer }
# $size: a size of the stock.
OneSize = size { $size }
# $sizes: the smallest and the largest size.
CommonToSizes = common to sizes { $sizes }
# $sizes: the smallest and the largest size.
NestedSizes = sizes { $sizes }: punch one row, cut its tip
# $sheets: numbers of sheets, $code: the print that they came with.
WithSheet = with sheet { $sheets } of print { $code }
# $wearer: the wearer.
For = for { $wearer }
# $least, $most: two girths.
GirthRange = girth { $least } to { $most }
# $sheets: two strips that are joined: `1 + 2`.
Join = JOIN { $sheets }
# In the overlap of the strip that lies above.
CutOff = cut off
# In the overlap of the strip that lies below. $strip: the strip above.
UnderStrip = under strip { $strip }
# The same on a narrow strap.
UnderShort = under { $strip }
# On the arrow at the first strip.
StartHere = START
# What to cut. $size: length and width, $thick: thickness.
CutSize = cut { $size }, { $thick } thick
# $count: how many, $size: their diameter.
Pricks = { $count } pricks Ø { $size }
# In sentences about readings.
InMm = mm
# The same in inches.
InInches = inches
# $from, $to: the two ends of the long check, $length: how far they are apart.
Joined = Joined, { $from } to { $to }: { $length }
# In the place of the long check.
NoJoins = No joins
# $window: what may be read.
Accept = accept { $window }
# $from, $to: two readings.
FromTo = { $from } to { $to }
# Below a scale bar. $length: its length.
BarIs = This bar is { $length }
# How to join, the first step.
JoinCutOff = Cut off the hatched end
# How to join, the second step.
JoinLayOn = Lay join sign on join sign
# How to join, the third step.
JoinTape = Tape. Go on to the next
# In the place of the foot.
SeeTicket = How to join, and all signs: see the ticket.
# Meaning of a sign.
SignPunch = prick and punch
# Meaning of a sign.
SignJoin = join sign
# Meaning of a sign.
SignCheck = long check, A to B
# Meaning of a sign.
SignCut = cut
# Meaning of a sign.
SignBend = bend, no cut
# Meaning of a sign.
SignHere = strip on this sheet
# Meaning of a sign.
SignCutOff = cut off before joining
# Meaning of a sign.
SignElsewhere = strip on another sheet
# Meaning of a sign.
SignPrick = stitch: prick only
# Meaning of a sign.
SignCentre = middle of the strap
# Heading on the ticket.
Signs = Signs
# Heading on the ticket.
JoinStrips = Join the strips in order: 1 + 2, then 3 …
# Heading on the ticket.
PunchesTrueSize = Punches, true size

## Marks and their signs.

# The line where the strap folds.
Bend = bend
# What the rulers and the readings count from. $unit: the unit.
BendReadings = readings in { $unit } from the outside of the bend
# The square end of the strap.
End = end
# The other end of a piece, where readings begin.
Start = start
# The point of the strap.
Tip = tip
# Beside what a ready-cut blank has already.
OnBlank = on blank
# A slot for the tongue or a strap.
Slot = slot
# The hole of the wearer's size.
Size = size
# Heading of the table of marks.
MarksByTape = Marks by tape
# Where the readings count from.
FromBend = from the outside of the closed bend; − lies on the turn-back
# Where the readings count from, on a piece that begins there.
FromZero = from the end
# Where the readings count from, on a piece that goes on before it.
FromMark = from the mark at 0; − lies before it
# Beside a piece that is cut the other way round.
Mirrored = mirrored
# A hole of the sizes.
Hole = hole
# A rivet, screw post or snap.
Fastener = fastener
# A decorative fitting.
Fitting = fitting
# A hole for an eyelet.
Eyelet = eyelet
# A hole for half of a snap.
Snap = snap
# A pricked hole for a stitch.
Stitch = stitch
# A cut with a knife that takes nothing away.
Slit = slit
# Column: which mark.
Mark = mark
# Column: what to make there.
Form = form
# A hole with a slit that goes over a stud or a button.
Stud = stud
# The half of a snap that is seen.
Cap = cap
# The half of a snap that goes into its cap.
Post = post
# $length: from one of many equal holes to the next.
Pitch = pitch { $length }
# Column: the nearest 1/32 in.
Nearest32 = to 1/32 in
# Column: what is left over from the nearest 1/32 in.
Rest = rest
# Column: how far off the centre line.
Across = off centre

## The ticket.

# Title of the ticket.
Ticket = Work ticket
# What was measured.
Measure = Measure
# $ease: a length.
Ease = ease { $ease }
# How it was measured: round the body.
TakenTape = tape round the body
# How it was measured: round the body, with fingers under the tape.
TakenFingers = tape round the body, fingers under it
# How it was measured: from the bend to the hole in use.
TakenBend = bend to hole
# How it was measured: from the buckle's bar to the hole in use.
TakenBar = bar to hole
# How it was measured: from the far edge of the frame to the hole in use.
TakenFrame = frame to hole
# How it was measured: from the bar at the beginning to the tip.
TakenTip = bar to tip
# How it was measured: with a sizing strap; the girth follows.
TakenSizing = sizing strap
# Which hole of a sizing strap. $hole: its number.
SizingHole = hole { $hole }
# How it was measured: the size in the trousers.
TakenTrousers = trouser size, an estimate
# $inside: inside width, $bar: diameter of the bar, $reach: reach.
Buckle = buckle { $inside } inside, bar Ø { $bar }, reach { $reach }
# Heading of what a ready-cut blank has already.
BlankHas = On the blank already, flat from its buckle end
# Heading of the list of pieces.
Pieces = Pieces
# Column: the length to cut.
CutLength = cut length
# Column: the width to cut.
Width = width
# Column: thickness of the leather.
Thickness = thickness
# Heading of the order of work.
OrderOfWork = Order of work
# Heading of the tools.
Tools = Tools
# $size: diameter, $count: how many holes.
PunchRound = round punch Ø { $size }: { $count } ×
# $size: length and width, $count: how many slots or oval holes, $ends: their width.
PunchSlot = oblong hole { $size }: { $count } ×, round punch Ø { $ends } and knife, or slot punch
# $count: how many pricks.
PrickStitches = pricking iron or awl: { $count } stitch holes
# Tools that every strap takes.
CommonTools = awl, sharp knife, steel ruler, soft-faced mallet, backing, eye protection
# Heading of what is used up.
Supplies = Supplies
# $thread: length of the thread, $seams: length of the seams.
Thread = thread { $thread }: 2.5 × { $seams } of seam, and an arm’s length more for each seam; 2 needles
# Supplies of a strap with a lining.
ContactCement = contact cement for the lining
# Supplies of a strap with screw posts.
ThreadLock = thread lock for screw posts
# Heading of the girths that the strap serves.
Serves = Girths served
# Heading of the lengths that the strap serves.
ServesLengths = Lengths served
# The hole for the smallest girth.
Tightest = tightest hole
# The hole of the size.
SizeHole = size hole
# The hole for the largest girth.
Loosest = loosest hole
# Heading of what to check.
BeforePunch = Before the first punch
# Heading of the cautions.
Cautions = Cautions
# Within the outline of a card. $long, $wide: its size.
CardCheck = A quick look only: a bank card (ISO/IEC 7810 ID-1, { $long } × { $wide }) should cover this outline. It does not show a small error: the scale bars decide.

## Hardware.

# Heading of the hardware.
Hardware = Hardware
# $count: how many, $hole: hole, $stack: all layers and the least post,
# $most: longest post.
Fasteners = { $count } × fastener, hole Ø { $hole }, stack { $stack }: rivet post { $stack } to { $most }, screw post just under { $stack }
# Rivets. $count: how many, $hole: hole, $stack: all layers and the least post,
# $most: longest post.
Rivets = { $count } × rivet, hole Ø { $hole }, stack { $stack }: post { $stack } to { $most }
# Screw posts. $count: how many, $hole: hole, $stack: stack.
ScrewPosts = { $count } × screw post, hole Ø { $hole }, stack { $stack }: post just under { $stack }
# Laces. $count: how many, $width: thickness.
Laces = { $count } × lace, { $width } thick
# How long a lace is. $line: what is said of it before, $length: its length.
LaceLength = { $line }, about { $length } long
# A fastener whose post the job gives. $line: what is said of it before, $post: the post.
PostGiven = { $line }; post on hand { $post }
# Fasteners that hold something to the strap. $count: how many, $hole: hole, $stack: leather.
FastenersOn = { $count } × fastener or stud, hole Ø { $hole }, through { $stack } and what it holds
# What button holes close on. $count: how many, $hole: hole, $stack: leather.
Studs = { $count } × stud or button, neck Ø { $hole }, through { $stack }
# $count: how many, $hole: hole, $stack: leather, $length: face.
Fittings = { $count } × fitting { $length }, hole Ø { $hole }, through { $stack }
# $count: how many, $hole: hole, $stack: leather.
Eyelets = { $count } × eyelet, hole Ø { $hole }, through { $stack }
# $count: how many, $hole: hole, $stack: leather.
Snaps = { $count } × snap half, hole Ø { $hole }, through { $stack }
# $count: how many, $bar: thickness of the bar, $width: width of the strap.
Ring = { $count } × ring, hook or bar Ø { $bar }, at least { $width } inside
# $count: how many, $bar: thickness of the bar, $width: width of the strap.
TongueBuckle = { $count } × buckle with a tongue, bar Ø { $bar }, at least { $width } inside
# $count: how many, $width: width of the keeper's strip, $length: its cut length.
Keeper = { $count } × keeper { $width } wide, cut { $length } long

## The order of work, what to check before it, and the cautions.

# Step: cut the pieces of a strap that ends in a tip.
StepCut = Cut the pieces to length and width; the tip comes later.
# Step: cut the pieces of a strap whose ends are square.
StepCutSquare = Cut the pieces to length and width.
# Step: lay the print on a ready-cut blank that has holes.
StepBlank = Lay the paper on the blank. Line it up with the holes that are already there.
# Step: lay the print on a ready-cut blank without holes.
StepBlankPlain = Lay the paper on the blank.
# Step: stamps, in their boxes.
StepStamp = Prick the corners of the boxes through the paper and lift it. Dampen the leather, stamp it in the boxes and let it dry.
# Step: line, before the holes that go through the lining.
StepLining = Cement the lining flesh to flesh, let it set, and trim it.
# Step: a lining that the holes do not go through.
StepLiningTrimmed = Cut the lining away round every hole. Cement it flesh to flesh, let it set, and trim it.
# Step: mark.
StepMark = Tape the paper to the grain side. With the awl, prick every cross that lies in a hole.
# Step: make slots.
StepSlots = Punch the slots: a round hole at each end, and cuts between them.
# Step: punch holes.
StepHoles = Punch the holes.
# Step: cut the slits.
StepSlit = Cut the slits with the knife, each toward its hole.
# Step: prick the seams.
StepPrick = Prick the stitch holes.
# Step: cut the tip.
StepTip = Cut the ends along the thick line.
# Step: cut the tip of a nested print, on which only the longest tip is thick.
StepTipOfSize = Cut the tip of your size along its own line.
# Step: cut the outline of a strap whose width changes.
StepOutline = Cut the outline along the thick line.
# Step: skive. $length: how far from the end.
StepSkive = Skive the flesh side of the turn-back over its last { $length }.
# Step: skive several folds.
StepSkiveEach = Skive the flesh side of every turn-back over its last third.
# Step: skive where turn-backs bear load.
StepSkivePast = Skive the flesh side of each turn-back only past its last fastener.
# Step: creases, which are the thin lines along the edge or across.
StepCrease = Crease along the thin lines.
# Step: edges and dye.
StepDye = Bevel the edges, dye, and let dry.
# Step: finish, before any metal is on.
StepFinish = Apply the finish and let it cure.
# Step: the keeper.
StepKeeper = Stitch or staple each keeper into a loop; put it in before the fold is closed.
# Step: screw posts, before the first is set.
StepThreadLock = Give each screw post a drop of thread lock as you set it.
# Step: folds that fasteners hold.
StepSet = Fold round the buckle, ring or hook, and set the fasteners.
# Step: folds that are stitched.
StepFold = Fold round the buckle, ring or bar.
# Step: stitch.
StepStitch = Stitch the seams.
# Step: the edges, once nothing more is sewn.
StepBurnish = Burnish the edges.
# Step: what else is set, past the folds.
StepSetRest = Set the fittings and other hardware last.
# Step: set the hardware of a strap without a fold.
StepSetPlain = Set the hardware.
# Step: try on what is worn.
StepTryOn = Try the strap on.
# Check: the bars.
CheckBars = Both scale bars of every sheet read what stands beside them; all corner angles are there.
# Check: the hardware itself, with a buckle.
CheckHardware = Your own hardware is measured: bar, reach, tongue, posts.
# Check: the hardware itself, without a buckle.
CheckHardwarePlain = Your own hardware is measured.
# What the job leaves to its template. $key: key, $value: value, $moves: how far a hole moves.
AssumedOne = { $key } { $value } (1 mm moves a hole by { $moves } mm)
# The same in a line. $keys: the measures.
Assumed = assumed: { $keys }. Measure yours.
# On the first sheet. $buckle: the buckle with its measures.
ComputedFor = Computed for: { $buckle }.
# Check: the punches on waste leather.
CheckScrap = Each punch was tried on a scrap of the same leather.
# Caution: local rules.
CautionRules = Local rules and licensed practice come first.
# Caution: knife and punch.
CautionTools = Cut away from the body on a firm mat; eye protection and a backing at the punch.
# Caution: cement and finish.
CautionFumes = Ventilate cement and finish, no flame near them; read their data sheets.
# Caution: no load.
CautionLoad = Not rated: not for lifting, fall arrest, climbing, restraint or riding.
# Caution: skin.
CautionSkin = On skin: nickel (REACH XVII 27, EN 1811), chromium VI (REACH XVII 47, EN ISO 17075).
# Caution: what bears load.
CautionTested = Bears load: tested hardware, and your own load test well past what it will carry.
# Caution: dogs.
CautionDog = Leave no dog alone in a collar or on a lead that is new or being tried.
# Caution: helmets.
CautionHelmet = Not for a protective helmet: this chin strap is for costume only.
# Caution: machines.
CautionNeck = Near machines a strap at the neck needs a fastening that breaks away.
# Caution: children.
CautionChildren = Children’s clothing: EN 14682; small parts come off, keep them from infants.
