"""The window on the desktop: a room to be turned, picked at, cut open and worked on.

``state`` knows what is picked, shown and moved; ``shown`` says what is to be drawn of
that; ``picture`` draws it, and is the only one here that talks to the graphics, with
``bodies``; ``app`` and ``hand`` bring them together.
"""
