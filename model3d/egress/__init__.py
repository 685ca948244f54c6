"""The ways in and out of a room: its free floor, who can stand where, the widest way.

The floor is exact polygons. A person is a disc as wide as the way that is asked for; a
person passes where the middle of that disc can go.
"""
