"""A record in one line of words, for history."""

from snugset.files.figures import show_value, value_from_json
from snugset.guide.events import Body, Record
from snugset.guide.words import took
from snugset.printable import counted
from snugset.trade.verdict import Verdict
from snugset.units import Quantity


def _spec(body: Body) -> str:
    if not body["had"]:
        return f"{body['name']}: not had"
    source = f" — {body['source']}" if body["source"] else ""
    return f"{body['name']}: {show_value(value_from_json(body['value']))}{source}"


def _reading(body: Body) -> str:
    value = Quantity.from_json(body["value"])
    doubt = f" ± {Quantity.from_json(body['uncertainty'])}" if body["uncertainty"] else ""
    flag = f", {body['flag']}" if body["flag"] else ""
    reason = f", because: {body['reason']}" if body["reason"] else ""
    return f"{body['at']}: {value}{doubt}: {Verdict(body['verdict']).words}{flag}{reason}"


def said(record: Record) -> str:
    """Give what happened in one line, beginning with its address."""
    body = record.body
    match record.kind:
        case "begun":
            return f"begun: {body['name']}"
        case "spec":
            return _spec(body)
        case "spec-part":
            return f"{body['name']}, {body['part']}: {body['text']}"
        case "done":
            turned = any(e["set"] == "crank" and e["value"] for e in body["effects"])
            degrees = "°" if turned and body["value"].replace(".", "").isdigit() else ""
            return f"{body['at']}: {body['value'] or 'done'}{degrees}"
        case "reading":
            return _reading(body)
        case "rejudged":
            return f"{body['at']}: judged again: {Verdict(body['verdict']).words}"
        case "set-aside":
            return f"{body['at']}: set aside ({body['code']}) {Quantity.from_json(body['value'])}"
        case "skipped":
            return f"{body['at']}: skipped, {body['reason']}"
        case "override":
            return f"{body['at']}: against the rule ({body['code']}): {body['reason']}"
        case "note":
            return f"{body['at']}: note: {body['text']}"
        case "photograph":
            return f"{body['at']}: photograph{f': {c}' if (c := body['caption']) else ''}"
        case "handover":
            return f"{body['to']} takes over from {body['from']}"
        case "planned":
            points = counted(len(body["points"]), "setting point")
            return f"{body['at']}: {points}, by {body['method']}"
        case "judged":
            return f"{body['at']}: {body['outcome']}"
        case "waiting":
            return f"{body['at']}: waiting: {body['what']}"
        case "voided":
            return (
                f"to be done again: {counted(len(body['addresses']), 'place')} ({body['reason']})"
            )
        case "revised":
            count = counted(len(body["addresses"]), "place")
            return f"newer files: {body['reason']} ({count} done again)"
        case "came-back":
            return f"came back after {took(body['gap'])}"
        case "returned":
            return "read what is to be re-checked"
        case "undone":
            return f"took back {body['at']}"
    return record.kind
