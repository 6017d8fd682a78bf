# The words of the bench page, in German. The key is the English words with a hyphen for all
# that is no letter or digit.

Check-the-print = Druck prüfen
Drawer = Schublade
Help = Hilfe
Main = Hauptmenü
Measure = Messen
No-print-yet = Noch kein Druck
Not-to-be-drawn-yet = Noch nicht zu zeichnen.
Orders = Aufträge
Other-sizes = Andere Größen
Print = Drucken
See-what-and-how = Zeigen, was und wie
Skip-to-the-page = Zum Inhalt
Something-has-to-be-mended-first = Zuerst ist etwas zu beheben.
Steps = Schritte
Straps = Riemen
Straps-of-your-own = Eigene Riemen
To-the-straps = Zu den Riemen
What-are-you-making = Was wird gemacht?
Your-jobs = Eigene Arbeiten
for-wearer = für { $wearer }
