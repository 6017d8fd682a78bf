# The words of the bench page, in Spanish. The key is the English words with a hyphen for all
# that is no letter or digit.

Check-the-print = Comprobar la impresión
Drawer = Cajón
Help = Ayuda
Main = Menú principal
Measure = Medir
No-print-yet = Aún no hay impresión
Not-to-be-drawn-yet = Aún no se puede dibujar.
Orders = Pedidos
Other-sizes = Otras tallas
Print = Imprimir
See-what-and-how = Ver qué y cómo
Skip-to-the-page = Ir al contenido
Something-has-to-be-mended-first = Antes hay que corregir algo.
Steps = Pasos
Straps = Correas
Straps-of-your-own = Correas propias
To-the-straps = A las correas
What-are-you-making = ¿Qué va a hacer?
Your-jobs = Sus trabajos
for-wearer = para { $wearer }
