# The words of the bench page, in Polish. The key is the English words with a hyphen for all
# that is no letter or digit.

Check-the-print = Sprawdź wydruk
Drawer = Szuflada
Help = Pomoc
Main = Menu główne
Measure = Pomiar
No-print-yet = Jeszcze bez wydruku
Not-to-be-drawn-yet = Nie można jeszcze narysować.
Orders = Zamówienia
Other-sizes = Inne rozmiary
Print = Drukuj
See-what-and-how = Zobacz, co i jak
Skip-to-the-page = Przejdź do treści
Something-has-to-be-mended-first = Najpierw trzeba coś poprawić.
Steps = Kroki
Straps = Paski
Straps-of-your-own = Własne paski
To-the-straps = Do pasków
What-are-you-making = Co robisz?
Your-jobs = Twoje prace
for-wearer = dla: { $wearer }
