# The words of the bench page, in Italian. The key is the English words with a hyphen for all
# that is no letter or digit.

Check-the-print = Controllare la stampa
Drawer = Cassetto
Help = Aiuto
Main = Menu principale
Measure = Misurare
No-print-yet = Ancora nessuna stampa
Not-to-be-drawn-yet = Non si può ancora disegnare.
Orders = Ordini
Other-sizes = Altre taglie
Print = Stampare
See-what-and-how = Vedere che cosa e come
Skip-to-the-page = Vai al contenuto
Something-has-to-be-mended-first = Prima c’è qualcosa da correggere.
Steps = Passi
Straps = Cinghie
Straps-of-your-own = Cinghie proprie
To-the-straps = Alle cinghie
What-are-you-making = Che cosa si realizza?
Your-jobs = I propri lavori
for-wearer = per { $wearer }
