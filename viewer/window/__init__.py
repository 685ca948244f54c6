"""The window on the desktop: a room to be turned, stepped through and cut open.

``state`` knows what is picked and shown; ``shown``, ``signs`` and ``words`` say what is
drawn and written of that, as data; ``bodies``, ``overlay`` and ``app`` draw it.
"""
