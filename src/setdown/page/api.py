"""The page's API: reading the class, changing it on a known revision, comparing, saving, signing off."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query

from setdown.page.bodies import CompareBody, EditBody, KeptBody, OnRevision, Refusal, SignoffBody
from setdown.page.desk import Desk
from setdown.page.view import describe_transcript

REFUSED: dict[int | str, dict[str, Any]] = {
    409: {"model": Refusal, "description": "The class was changed elsewhere in between; nothing was done."},
    422: {"model": Refusal, "description": "It cannot be done, and why; nothing was done."},
    400: {"model": Refusal, "description": "The request cannot be read."},
}
Answer = dict[str, Any]


def make_router(desk: Desk) -> APIRouter:
    """The routes for one desk. Each is a plain function: the server runs it in a thread, the desk takes one at a time."""
    api = APIRouter(responses=REFUSED)

    @api.get("/class")
    def read_class() -> Answer:
        return desk.describe()

    @api.get("/transcript")
    def read_transcript() -> Answer:
        return describe_transcript(desk.transcript)

    @api.get("/revision")
    def read_revision() -> Answer:
        return {"revision": desk.revision}

    @api.get("/movements")
    def find_movements(find: Annotated[str, Query(max_length=200)] = "") -> Answer:
        return {"movements": desk.find_movements(find)}

    @api.post("/edit")
    def edit(body: EditBody) -> Answer:
        return desk.edit(body.edit, body.revision)

    @api.post("/undo")
    def undo(body: OnRevision) -> Answer:
        return desk.undo(body.revision)

    @api.post("/redo")
    def redo(body: OnRevision) -> Answer:
        return desk.redo(body.revision)

    @api.post("/save")
    def save(body: OnRevision) -> Answer:
        return desk.save(body.revision)

    @api.post("/rejoin")
    def rejoin(body: OnRevision) -> Answer:
        return desk.rejoin(body.revision)

    @api.post("/signoff")
    def sign_off(body: SignoffBody) -> Answer:
        return desk.sign_off(body.by, body.revision)

    @api.post("/kept")
    def take_kept(body: KeptBody) -> Answer:
        return desk.take_kept(body.take, body.revision)

    @api.post("/compare")
    def compare(body: CompareBody) -> Answer:
        return desk.compare(body)

    return api
