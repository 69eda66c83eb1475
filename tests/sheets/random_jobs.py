"""Jobs priced at random: awkward quantities, packs, markups, VAT categories and currencies."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from random import Random

from kitting.catalog.rules import Labour
from kitting.catalog.trade import PriceBreak, Rate, Trade
from kitting.job.path import JobPath, walk
from tests.builders import aim
from tests.sheets.values import a_family, a_job, a_trade

_CURRENCIES = ("GBP", "GBP", "EUR", "JPY", "KWD")
_PLACES = {"JPY": 0, "KWD": 3}


def random_job(seed: int) -> JobPath:
    """A job of the Wren at terms drawn from `seed`; the same seed, the same job."""
    draw = Random(seed)
    family = a_family()
    family = replace(
        family,
        parts=tuple(replace(part, vat=draw.choice("SSZER")) for part in family.parts),
        labour=(
            *family.labour,
            Labour("build", aim("assembly:top-end"), _amount(draw, 1, 9, 2)),
            Labour("clean", aim("assembly:lubrication"), _amount(draw, 0, 2, 2)),
        ),
        positions=tuple(
            replace(each, quantity=draw.randint(1, 17)) if each.kind == "nut" else each
            for each in family.positions
        ),
    )
    bench = a_job().bench
    return walk(family, _random_trade(draw), bench, date(2024, 5, 2))


def _random_trade(draw: Random) -> Trade:
    trade = a_trade()
    home = draw.choice(_CURRENCIES)
    vat = {
        "S": _amount(draw, 5, 25, draw.choice((0, 1))),
        "Z": Decimal(0),
        "E": Decimal(0),
        "R": _amount(draw, 1, 9, draw.choice((0, 1, 2))),
    }
    shop = replace(
        trade.shop,
        currency=home,
        labour_rate=_amount(draw, 20, 90, _PLACES.get(home, 2)),
        labour_vat=draw.choice("SR"),
        parts_markup=_amount(draw, 0, 60, 2),
        work_markup=_amount(draw, 0, 40, 1),
        vat=vat,
    )
    offers = tuple(
        replace(
            offer,
            currency="GBP" if offer.currency == "GBP" else "EUR",
            price=_amount(draw, 0, 60, draw.choice((2, 2, 3))),
            pack=draw.choice((1, 1, 1, 3, 10)),
            breaks=(PriceBreak(2, _amount(draw, 0, 30, 2)),) if draw.random() < 0.3 else (),
        )
        for offer in trade.offers
    )
    on = date(2024, 4, 30)
    rates = tuple(Rate(each, _amount(draw, 0, 3, 4) + 1, on) for each in ("GBP", "EUR"))
    return replace(trade, shop=shop, offers=offers, rates=rates)


def _amount(draw: Random, low: int, high: int, places: int) -> Decimal:
    scale = 10**places
    return Decimal(draw.randint(low * scale + 1, high * scale)).scaleb(-places)
