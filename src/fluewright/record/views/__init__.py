"""What can be looked up quickly: tables worked out from the journal, thrown away and made anew at will.

Nothing here is a record. A view is never migrated: when its form changes it is dropped and folded again from the
entries. Every row is a function of the set of entries alone, so that two stores that hold the same entries show the
same, in whatever order they came.
"""
