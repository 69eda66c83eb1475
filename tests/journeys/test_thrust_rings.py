"""The crank's end float from the strip sheet to the right thrust ring, measured as it arrives."""

from kitting.sheets.strip.fill import Entry
from tests.journeys.shop import DAY, Shop

JOB = "26-060"
JO = ("--who", "J. Fitter")
KIT = ("--who", "K. Ferris")
# .50 on a ring worn to 2.91: .41 on the standard 3.00, so 3.20.
WORN = (
    Entry("cover", "who", "", "", "J. Fitter"),
    Entry("cover", "when", "", "", "2026-11-24"),
    Entry("thrust-ring", "shaft-end-float", "", "", "0.50"),
    Entry("thrust-ring", "thrust-ring-thickness", "0", "", "2.93"),
    Entry("thrust-ring", "thrust-ring-thickness", "120", "", "2.91"),
    Entry("thrust-ring", "thrust-ring-thickness", "240", "", "2.92"),
)
# The rest of what must be looked at, but for the shaft.
SOUND = tuple(
    Entry(position, "sound", "", "", "x")
    for position in (
        "fan-end-cover",
        "fan-end-bush",
        "connecting-rod",
        "big-end-halves",
        "dipper",
        "small-end-bush",
        "drive-end-bearing",
        "crankcase",
    )
)


def test_the_float_on_the_strip_sheet_buys_the_ring_that_closes_it(stocked_shop: Shop) -> None:
    shop = stocked_shop
    shop.types("job", "open", JOB, "--family", "tarnwick-s45", "--engine", "S45-15000")
    shop.types("strip", "load", JOB, str(shop.filled(JOB, (*WORN, *SOUND))))
    verdicts = {v["position"]: v["verdict"] for v in shop.reads("verdicts", JOB)["verdicts"]}
    assert verdicts["thrust-ring"] == "renew"
    (washer,) = shop.reads("sizes", JOB)["washers"]
    assert (washer["float"], washer["part"]) == ("0.410 mm", "tar:4570-014/20")
    assert "on a washer of 2.910 mm" in str(washer["because"])
    said = " ".join(shop.types("sizes", JOB).split())
    assert "thrust ring: 0.410 mm is in the row 'tar:4570-014/20'" in said
    kit = shop.reads("kit", JOB, "--on", DAY)
    (ring,) = [line for line in kit["lines"] if "thrust-ring" in line["positions"]]
    assert (ring["part"], ring["quantity"]) == ("tar:4570-014/20", 1)
    (point,) = kit["ready"]["open"]
    assert (point["where"], point["why"]) == ("crankshaft", "check asked for")
    assert "shoulder" in str(point["because"])
    shop.types("strip", "add", JOB, "crankshaft", "sound", *JO)
    shop.types("order", "make", JOB, "--on", DAY)
    orders = [
        shop.reads("order", "show", o["order"]) for o in shop.reads("order", "list")["orders"]
    ]
    number, line = next(
        (each["brief"]["order"], line)
        for each in orders
        for line in each["lines"]
        if line["part"] == "tar:4570-014/20"
    )
    assert line["measure"] == ["thickness: 3.180 mm to 3.220 mm"]
    shop.types("order", "approve", number, *KIT, "--on", DAY)
    said = shop.types("order", "receive", number, "--good", f"{line['line']}=1", *JO)
    assert "1 here, to be measured" in said
    figure = "thickness = 3.10"
    assert "wrong part" in shop.types("order", "measure", number, line["line"], figure, *JO)
