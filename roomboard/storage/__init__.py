"""Projects and resources on disk: reading with every fault named, writing all or nothing."""
