"""The page's API: reading the class, changing it on a known revision, comparing, saving, signing off."""

from __future__ import annotations

import json
from typing import Annotated, Any

from fastapi import APIRouter, Query, Response

from setdown.page.bodies import CompareBody, EditBody, KeptBody, OnRevision, Refusal, SignoffBody
from setdown.page.desk import Desk
from setdown.page.view import View, describe_transcript

REFUSED: dict[int | str, dict[str, Any]] = {
    409: {"model": Refusal, "description": "The class was changed elsewhere in between; nothing was done."},
    422: {"model": Refusal, "description": "It cannot be done, and why; nothing was done."},
    400: {"model": Refusal, "description": "The request cannot be read."},
}


def send_json(view: View) -> Response:
    """Plain data as it is: a long class would spend most of its time in being checked and copied on the way."""
    return Response(json.dumps(view, ensure_ascii=False), media_type="application/json")


def make_router(desk: Desk) -> APIRouter:
    """The routes for one desk. Plain functions: the server runs them in threads, the desk takes one at a time."""
    api = APIRouter(responses=REFUSED)

    @api.get("/class")
    def read_class() -> Response:
        return send_json(desk.describe())

    @api.get("/transcript")
    def read_transcript() -> Response:
        return send_json(describe_transcript(desk.transcript))

    @api.get("/revision")
    def read_revision() -> Response:
        return send_json({"revision": desk.revision})

    @api.get("/movements")
    def find_movements(find: Annotated[str, Query(max_length=200)] = "") -> Response:
        return send_json({"movements": desk.find_movements(find)})

    @api.post("/edit")
    def edit(body: EditBody) -> Response:
        return send_json(desk.edit(body.edit, body.revision))

    @api.post("/undo")
    def undo(body: OnRevision) -> Response:
        return send_json(desk.undo(body.revision))

    @api.post("/redo")
    def redo(body: OnRevision) -> Response:
        return send_json(desk.redo(body.revision))

    @api.post("/save")
    def save(body: OnRevision) -> Response:
        return send_json(desk.save(body.revision))

    @api.post("/rejoin")
    def rejoin(body: OnRevision) -> Response:
        return send_json(desk.rejoin(body.revision))

    @api.post("/signoff")
    def sign_off(body: SignoffBody) -> Response:
        return send_json(desk.sign_off(body.by, body.revision))

    @api.post("/kept")
    def take_kept(body: KeptBody) -> Response:
        return send_json(desk.take_kept(body.take, body.revision))

    @api.post("/compare")
    def compare(body: CompareBody) -> Response:
        return send_json(desk.compare(body))

    return api
