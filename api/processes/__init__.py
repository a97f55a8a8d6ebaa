"""Work that must not run in the server itself: solving, reading uploads, writing workbooks."""
