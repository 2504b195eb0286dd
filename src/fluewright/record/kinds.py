"""Every kind of entry that this version writes.

A kind is never taken away and a field never changes its meaning: a new form gets the next version number, and
`upcast.py` turns the older form into it when it is read. What is about a person is of type person.
"""

from collections.abc import Mapping
from typing import cast

from fluewright.record.shape import Field, Kind, Type


def _fields(required: str, optional: str = "", **words: tuple[str, ...]) -> tuple[Field, ...]:
    """Fields from `name:type` words; a field of type word takes its words by its name."""
    found = []
    for text, need in ((required, True), (optional, False)):
        for each in text.split():
            name, _, kind = each.partition(":")
            found.append(Field(name, cast(Type, kind or "text"), need, words.get(name, ())))
    return tuple(found)


ROLES = ("technician", "office", "auditor", "administrator")
PLACES = ("outdoors", "doorway", "inside")

_SHOP = (
    Kind("device", "a machine that writes entries, with the key it signs with",
         _fields("name", "key program revoked_key continues:id anchor because:person practice:flag")),
    Kind("person", "someone who works for the shop",
         _fields("name:person role:word", "initials:person phone:person email:person key active:flag", role=ROLES)),
    Kind("ticket", "a licence or certificate of a person",
         _fields("person:id words expires:day", "number:person issued:day jurisdiction classes:list photo:id")),
    Kind("customer", "who pays",
         _fields("name:person", "street:person phone:person email:person reference note:person")),
    Kind("site", "a building",
         _fields("address:person", "customer:id jurisdiction place:table units reference note:person")),
    Kind("space", "a room that appliances stand in",
         _fields("name", "site:id volume:value openings:list fans:list note:person")),
    Kind("appliance", "one fuel-burning appliance with its plate and points",
         _fields("words", "site:id space:id class serial plate:table points:list fuel:table retired:flag")),
    Kind("flue group", "the appliances that share a flue",
         _fields("words appliances:list", "site:id flue:table")),
    Kind("vent", "a vent with what is marked on it",
         _fields("words", "group:id appliance:id category material marked:value ends:list")),
    Kind("instrument", "a measuring device",
         _fields("words", "serial accuracy channels:table made:day retired:flag")),
    Kind("calibration", "a calibration of an instrument, as found and as left",
         _fields("instrument:id day:day", "due:day found:table left:table by certificate file:id")),
    Kind("check", "a zero, a leak check or another check of an instrument",
         _fields("instrument:id what:word result", "visit:id place:word air:table seen:table minutes_on:value time "
                 "day:day how gas other cell", place=PLACES,
                 what=("zero", "closing zero", "leak", "span", "response", "filter", "battery", "cross-check", "cell",
                       "hydrogen"))),
    Kind("due", "something that must be done by a day",
         _fields("what due:day", "appliance:id site:id customer:id instrument:id rule from:id")),
    Kind("settings", "a setting of the shop or a device", _fields("name value", "person:id")),
    Kind("clause", "a clause that the shop entered from its own code book",
         _fields("rule document edition clause page initials text", "jurisdiction limit unit")),
)  # fmt: skip

_VISIT = (
    Kind("visit", "a visit opened",
         _fields("title:person day:day", "site:id customer:id technician:id customer_name:person site_words:person "
                 "technician_name:person appliances:list route jurisdiction units emergency supplier invented:flag "
                 "referred:list")),
    Kind("sitting", "a visit taken up on another device, or by another person", _fields("visit:id", "because:person")),
    Kind("stretch", "a moment or a condition that readings belong to",
         _fields("visit:id word", "appliance:id time point point_kind point_class steady boundary basis air_at flue_at "
                 "note:person trace mapping trace_block:id fuel rate direction mode")),
    Kind("reading", "one observed value",
         _fields("visit:id name value:value", "stretch:id appliance:id point instrument:id condition:table "
                 "because:person")),
    Kind("line", "one line of the sheet: what stands in a table of the visit, as typed and as understood",
         _fields("visit:id table", "under:id typed:table understood:table appliance:id instrument:id condition:table")),
    Kind("trace block", "a run of samples of several channels, in a file beside the store",
         _fields("channels:list start:moment count:whole file:hash", "visit:id stretch:id step:value lags:table "
                 "instrument:id end:moment source instrument_words appliance_words trust:word why",
                 trust=("known", "unknown"))),
    Kind("file", "a photo or another file",
         _fields("content:person type bytes:whole", "visit:id appliance:id place words:person taken:moment")),
    Kind("step", "one adjustment made", _fields("visit:id word:person", "time meant:person appliance:id")),
    Kind("note", "a remark", _fields("visit:id word:person", "time")),
    Kind("event", "what burner and fans did", _fields("visit:id word time", "appliance:id")),
    Kind("done", "what was done, in a sentence for the sheet", _fields("visit:id word:person")),
    Kind("next", "what is to be done next", _fields("visit:id word:person", "due:day")),
    Kind("not measured", "a reading that could not be had, with the reason",
         _fields("visit:id what because:person", "point appliance:id")),
)  # fmt: skip

_JUDGED = (
    Kind("finding", "a sentence that was shown",
         _fields("visit:id code grade sentence", "body evidence:list source engine books:table appliance:id")),
    Kind("answer", "what became of a finding",
         _fields("of:id answer:word", "visit:id because:person to:person time:moment",
                 answer=("acted on", "dismissed", "made safe", "escalated", "tested out"))),
    Kind("notice", "a danger found, who was told and whether they consented",
         _fields("visit:id words consent:word", "finding:id appliance:id told:person done:persons calls:persons "
                 "label:id signature:person witness:person copy time:moment", consent=("yes", "refused", "absent"))),
    Kind("notice closed", "a danger that is no more", _fields("of:id because:person", "visit:id")),
    Kind("danger closed", "a dangerous cause tested out, made safe, or handed on by name",
         _fields("visit:id danger how:word words:person", "to:person when:person knows:list",
                 how=("tested out", "made safe", "escalated"))),
    Kind("struck out", "an entry that does not count, with the reason", _fields("of:id because:person", "visit:id")),
    Kind("amendment", "other words or figures for an entry, with the reason",
         _fields("of:id fields:table because:person", "visit:id knows:list")),
    Kind("seal", "a visit closed and signed",
         _fields("visit:id content:hash signature key meaning", "who:id name:person recognised entries:whole "
                 "covers:table algorithm report:hash books:table engine tickets:list stroke:person when:moment")),
    Kind("counter-seal", "a second signature over a seal",
         _fields("of:id visit:id content:hash signature key meaning", "who:id name:person recognised entries:whole "
                 "covers:table algorithm report:hash books:table engine tickets:list stroke:person when:moment")),
    Kind("revocation", "a key that counts no more from a moment on",
         _fields("key since:moment because:person", "device:id sequence:whole")),
    Kind("hold", "records that may not be erased", _fields("of:id because:person", "until:day by:person")),
    Kind("hold lifted", "the end of a hold", _fields("of:id because:person")),
    Kind("erasure", "fields about a person that were erased",
         _fields("commitments:list because", "of:id law")),
)  # fmt: skip

KINDS: Mapping[str, Kind] = {kind.name: kind for kind in (*_SHOP, *_VISIT, *_JUDGED)}
"""Kinds by their word."""

VISITS_OWN = frozenset(kind.name for kind in KINDS.values() if kind.field("visit") is not None)
"""Kinds that may belong to a visit."""

AFTER_SEAL = frozenset(
    ("amendment", "struck out", "counter-seal", "notice closed", "hold", "hold lifted", "erasure", "revocation")
)
"""Kinds that a visit still takes when it is sealed: each leaves what was signed as it is."""
