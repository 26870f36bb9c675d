"""A cluster that kits can't be made on."""

from __future__ import annotations

from pathlib import Path

from kitwright.errors import Said


def no_engine() -> Said:
    return (
        "kits are made on a cluster by Dask, which is not installed here",
        "type  .venv/bin/python -m pip install 'distributed'  in the folder of kitwright, or leave --on out: then this machine makes them",
    )


def none_there(address: str, why: str) -> Said:
    return (
        f"no scheduler of Dask’s answers at {address}: {why}",
        "start one with  dask scheduler  and give the address that it tells, such as tcp://127.0.0.1:8786",
    )


def no_worker(address: str) -> Said:
    return f"the cluster at {address} has no workers", f"start one on each machine:  dask worker {address}"


def another_program(worker: str) -> Said:
    return (
        f"the worker at {worker} runs another kitwright, another Python, or other libraries than this machine",
        "set up the same version of kitwright there; kits must come out the same wherever they are made",
    )


def elsewhere(worker: str, root: Path) -> Said:
    return (
        f"the worker at {worker} does not see the archive in {root}",
        "put the archive on a disk that all machines share, under the same path, where every worker may write",
    )
