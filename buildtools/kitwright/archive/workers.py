"""Many at once: what is asked for by plain values is done by helping processes, through the standard executor interface.

Any `concurrent.futures.Executor` does, such as one of a cluster; what is handed over is a function
of a module and requests that can be pickled. In which order it is done makes no difference to what comes out.
"""

from __future__ import annotations

import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, ProcessPoolExecutor, wait
from multiprocessing import active_children, get_context, parent_process
from os import cpu_count
from typing import TypeVar

from kitwright.errors import UserError
from kitwright.memory import sweep_seldom

Progress = Callable[[str, int, int], None]
"""What is being done, how much of it is done, and how much there is."""
Asked = TypeVar("Asked")
Given = TypeVar("Given")
MOST = 8
"""Helping processes at most."""
AHEAD = 2
"""Requests handed over for each process, so that none waits and none lies about."""
TRIES = 3
"""How often something is tried whose process was lost each time."""


def processes() -> int:
    """How many helping processes this machine has room for."""
    return max(1, min(cpu_count() or 1, MOST))


def done(function: Callable[[Asked], Given], asked: Iterable[Asked], total: int, executor: Executor | None = None) -> Iterator[Given]:
    """What a function gives for each request, as it comes.

    Args:
        function: a function of a module.
        asked: the requests; each is taken only when there is room for it.
        total: how many there are, at most.
        executor: who does it; processes of our own, where there is more than one request, if left out.

    Raises:
        UserError: the process that did something was lost each time.
    """
    if executor is not None:
        yield from _handed_over(function, asked, lambda: executor, processes() * 8)
    elif total < 2 or processes() < 2:
        yield from map(function, asked)
    else:
        yield from _by_processes(function, asked, min(total, processes()))


def _by_processes(function: Callable[[Asked], Given], asked: Iterable[Asked], workers: int) -> Iterator[Given]:
    pools: list[ProcessPoolExecutor] = []

    def begin() -> ProcessPoolExecutor:
        for pool in pools:
            pool.shutdown(wait=False)
        # Started afresh rather than forked: alike on every system, and safe beside the preview's threads.
        pools[:] = [ProcessPoolExecutor(workers, get_context("spawn"), helping)]
        return pools[0]

    try:
        yield from _handed_over(function, asked, begin, workers * AHEAD)
    except BaseException:
        # Nobody waits for what nobody will see.
        for pool in pools:
            pool.shutdown(wait=False, cancel_futures=True)
        for each in active_children():
            each.terminate()
        raise
    for pool in pools:
        pool.shutdown()


def _handed_over(function: Callable[[Asked], Given], asked: Iterable[Asked], begin: Callable[[], Executor], most: int) -> Iterator[Given]:
    executor: Executor | None = None
    requests = iter(asked)
    waiting: dict[Future[Given], tuple[Asked, int]] = {}
    again: list[tuple[Asked, int]] = []
    losses = 0

    def hand_over() -> None:
        nonlocal executor
        executor = executor or begin()
        while len(waiting) < most:
            if again:
                one, tries = again.pop()
            else:
                try:
                    one, tries = next(requests), 0
                except StopIteration:
                    return
            waiting[executor.submit(function, one)] = one, tries + 1

    def lost() -> None:
        """Whatever was handed over is handed over again, to new processes."""
        nonlocal executor, losses
        losses += 1
        if losses >= TRIES or any(tries >= TRIES for _, tries in waiting.values()):
            raise UserError("site.helper-ended") from None
        again.extend(waiting.values())
        waiting.clear()
        executor = None

    while True:
        try:
            hand_over()
        except BrokenExecutor:
            lost()
            continue
        if not waiting:
            return
        ready, _ = wait(waiting, return_when=FIRST_COMPLETED)
        for future in ready:
            if future not in waiting:
                continue
            try:
                given = future.result()
            except BrokenExecutor:
                lost()
                break
            del waiting[future]
            losses = 0
            yield given


def helping() -> None:
    """A helping process ends with the main one, however that ends, and at an interrupt without a word: the main one speaks."""
    sweep_seldom()
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    main = parent_process()
    if main is not None:

        def follow() -> None:
            main.join()
            os._exit(1)

        threading.Thread(target=follow, daemon=True).start()
