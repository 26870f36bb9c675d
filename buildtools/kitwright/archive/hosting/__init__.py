"""A finished site handed to its host, and read back.

`target.py` says where, `ready.py` whether it may go, `plan.py` what goes and in which order;
`rsync.py`, `sftp.py` and `command.py` take it there, `reread.py` reads what is public. Whatever
is cut off half way, each public file is the old or the new one, no page leads to what is not
there yet, and nothing is removed but what was put there from here.
"""
