"""What is published when, and how it is corrected: moments, revisions, errata, codes, people."""
