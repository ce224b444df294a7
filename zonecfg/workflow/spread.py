"""The same work on many things at once: a pool of processes here, a Dask cluster where one machine is not enough."""

import os
import re
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from itertools import islice
from typing import TYPE_CHECKING, TypeVar

from zonecfg.errors import MissingExtra, UnknownName, WorkerLost

if TYPE_CHECKING:
    from concurrent.futures import Executor

Task = TypeVar("Task")
Answer = TypeVar("Answer")

SITES_A_TASK = 20
"""Enough to read a shared catalogue seldom, few enough to keep every worker busy until the end."""

_WORTH_A_PROCESS = 3 * SITES_A_TASK


class Crew:
    """Who does the work.

    Parameters
    ----------
    jobs
        Processes; None for as many as this machine has cores and the work is worth.
    cluster
        ``cluster://HOST:PORT`` of a scheduler, whose workers see the same files; None for this machine.
    progress
        Is told how many things are done, and of how many, whenever some are.
    """

    def __init__(
        self, jobs: int | None = 1, cluster: str | None = None, progress: Callable[[int, int], None] | None = None
    ) -> None:
        if jobs is not None and jobs < 1:
            raise UnknownName(f"{jobs} jobs; 1 is the least")
        self.jobs, self.cluster = jobs, cluster
        self._progress = progress

    def each(
        self, work: Callable[[Sequence[Task]], Answer], things: Sequence[Task], size: int = SITES_A_TASK
    ) -> Iterator[Answer]:
        """Do the work on some things at a time; give the answers in the order of the things.

        Parameters
        ----------
        work
            Takes a few of the things; other processes must be able to import it.
        things
            All of them.
        size
            How many at a time.

        Raises
        ------
        MissingExtra
            A cluster was named and its library is not installed.
        UnknownName
            The cluster is not there.
        """
        rest = iter(things)
        tasks = list(iter(lambda: list(islice(rest, size)), []))
        with self._executor(len(things)) as executor:
            answers = map(work, tasks) if executor is None else executor.map(work, tasks)
            done = 0
            try:
                for answer in answers:
                    done += 1
                    if self._progress is not None:
                        self._progress(min(done * size, len(things)), len(things))
                    yield answer
            except RuntimeError as error:
                if executor is None or not _was_ended(error):
                    raise
                lost = [str(thing) for task in tasks[done:] for thing in task]
                raise WorkerLost(
                    f"a process that worked for this one was ended; nothing is told of {len(lost)} of {len(things)}, "
                    f"from {lost[0][:200]} on: run it again, or with --jobs 1"
                ) from None

    def _processes(self, things: int) -> int:
        if self.jobs is not None:
            return min(self.jobs, max(things, 1))
        cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
        return min(cores, max(things // _WORTH_A_PROCESS, 1))

    @contextmanager
    def _executor(self, things: int) -> Iterator["Executor | None"]:
        if self.cluster is not None:
            with _dask(self.cluster) as executor:
                yield executor
        elif (processes := self._processes(things)) > 1:
            from concurrent.futures import ProcessPoolExecutor  # noqa: PLC0415  (dear, and one site needs none)

            executor = ProcessPoolExecutor(processes)
            try:
                yield executor
            finally:
                executor.shutdown(cancel_futures=True)
        else:
            yield None


def _was_ended(error: RuntimeError) -> bool:
    from concurrent.futures import BrokenExecutor  # noqa: PLC0415

    return isinstance(error, BrokenExecutor)


@contextmanager
def _dask(cluster: str) -> Iterator["Executor"]:
    scheme, _, address = cluster.partition("://")
    secure = "tls" if scheme == "tls" else "tcp"
    named = re.fullmatch(r"\S+:[0-9]{1,5}", address)
    if scheme not in ("cluster", "dask", "tls") or not named:  # the second is the first's older name
        raise UnknownName(f"{cluster} is no cluster; write cluster://HOST:PORT, or tls://HOST:PORT")
    try:
        from distributed import Client  # noqa: PLC0415  (heavy, and an extra)
    except ImportError:
        raise MissingExtra("a Dask cluster needs: pip install 'zonecfg[cluster]'") from None
    try:
        client = Client(f"{secure}://{address}", timeout=10, set_as_default=False)
    except (OSError, ValueError):
        raise UnknownName(f"no scheduler answers at {address}") from None
    with client:
        yield client.get_executor(pure=False)
