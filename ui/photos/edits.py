"""What can be done to the photos of a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from loadbench.job.edits import replaced_all

if TYPE_CHECKING:
    from loadbench.job.kept_parts import Photo
    from loadbench.job.model import Job


def with_photo(job: Job, photo: Photo) -> Job:
    """The job with one photo more."""
    return replaced_all(job, {"photos": (*job.photos, photo)})


def without_photo(job: Job, index: int) -> Job:
    """The job without one of its photos."""
    return replaced_all(job, {"photos": job.photos[:index] + job.photos[index + 1 :]})


def with_note(job: Job, index: int, note: str) -> Job:
    """The job with another note beside a photo."""
    photo = job.photos[index].model_copy(update={"note": note.strip() or None})
    return replaced_all(job, {"photos": (*job.photos[:index], photo, *job.photos[index + 1 :])})
