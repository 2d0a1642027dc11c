"""The back-catalogue: an index of many classes in one file, and what can be asked of it.

``open_store`` opens the file, ``add_classes`` brings it up to date, ``find_classes`` answers.
"""
