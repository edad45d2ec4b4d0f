"""Fuzz the readers of tables (CSV): the bill and the stock list."""

from collections.abc import Callable

from running import SAMPLES, run

STOCK = b"""section,grade,length,count,remnant,heat,certificate,location
L4x3-1/2x3/8,A36,20',12,,H1234,C-77,rack 3
L90x90x10,S275JR,6100mm,4,,,,
FB4x3/8,A36,7'-3 1/2",1,R-19,H88,,floor
"""
WORDS = (
    *("mark", "quantity", "qty", "section", "length", "grade", "revision", "order", "count"),
    *("remnant", "heat", "certificate", "location", "price", "mass", "sep=;", ";", "\t", '"', '""'),
    *("=1+1", "@x", "'", "\r\n", "\ufeff", "L4x3-1/2x3/8", "9'-4 1/2\"", "1,5", "1.234,5", "total"),
)


def prepare() -> Callable[[bytes], None]:
    """Return the function that reads the same bytes as a bill and as a stock list."""
    from translator.bars.stock import read_stock
    from translator.batch.bill import read_bill
    from translator.source import Source

    def one(data: bytes) -> None:
        source = Source(path="x.csv", data=data)
        read_bill(source)
        read_stock(source)

    return one


if __name__ == "__main__":
    run(prepare, [STOCK, *(path.read_bytes() for path in sorted(SAMPLES.rglob("*.csv")))], WORDS)
