# The words of the bench page, in French. The key is the English words with a hyphen for all
# that is no letter or digit.

Check-the-print = Vérifier l’impression
Drawer = Tiroir
Help = Aide
Main = Menu principal
Measure = Mesurer
No-print-yet = Pas encore d’impression
Not-to-be-drawn-yet = Ne peut pas encore être dessinée.
Orders = Commandes
Other-sizes = Autres tailles
Print = Imprimer
See-what-and-how = Voir quoi et comment
Skip-to-the-page = Aller au contenu
Something-has-to-be-mended-first = Il faut d’abord corriger quelque chose.
Steps = Étapes
Straps = Courroies
Straps-of-your-own = Vos propres courroies
To-the-straps = Vers les courroies
What-are-you-making = Que fabriquez-vous ?
Your-jobs = Vos travaux
for-wearer = pour { $wearer }
