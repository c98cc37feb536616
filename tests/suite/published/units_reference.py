"""Regenerates data/units_pint.json: what the units library `pint` says of every unit.

    pip install pint==0.25.3
    python units_reference.py

Each row holds a unit as this project writes it, its factor to SI base units, its offset where it
has one, and the exponents of length, mass, time, current and temperature. pint has no dimension for
an angle. Nothing here is taken from the project's own table: the right-hand sides are pint's words.
"""

import json
import pathlib
import random

import pint

SYMBOLS = {
    # length, area, volume
    "m": "meter", "mm": "millimeter", "cm": "centimeter", "km": "kilometer", "um": "micrometer",
    "ft": "foot", "in": "inch", "yd": "yard", "mi": "mile", "mil": "thou", "kft": "1000 * foot",
    "sqft": "square_foot", "sqin": "square_inch", "L": "liter", "mL": "milliliter",
    "cuft": "cubic_foot", "cuyd": "cubic_yard", "gal": "gallon", "board_foot": "board_foot",
    "cfm": "cubic_foot / minute",
    # mass, time, rates
    "kg": "kilogram", "g": "gram", "t": "metric_ton", "lb": "pound", "oz": "ounce",
    "ton": "short_ton", "slug": "slug", "s": "second", "ms": "millisecond", "min": "minute",
    "h": "hour", "day": "day", "week": "week", "year": "common_year", "Hz": "hertz",
    "kHz": "kilohertz", "rpm": "revolutions_per_minute", "mph": "mile_per_hour", "knot": "knot",
    "g0": "standard_gravity",
    # angle, ratio
    "deg": "degree", "arcmin": "arcminute", "arcsec": "arcsecond", "rad": "radian",
    "mrad": "milliradian", "rev": "turn", "gon": "grade", "%": "percent",
    # force, moment, energy
    "N": "newton", "kN": "kilonewton", "MN": "meganewton", "lbf": "pound_force", "kip": "kip",
    "ozf": "ounce_force", "kgf": "kilogram_force", "Nm": "newton * meter",
    "kNm": "kilonewton * meter", "Nmm": "newton * millimeter", "ft-lbf": "foot_pound",
    "in-lbf": "inch * pound_force", "kip-ft": "kip * foot", "kip-in": "kip * inch", "J": "joule",
    "kJ": "kilojoule", "MJ": "megajoule", "Wh": "watt_hour", "kWh": "kilowatt * hour",
    "Btu": "international_british_thermal_unit",
    # pressure, line load, density
    "Pa": "pascal", "hPa": "hectopascal", "kPa": "kilopascal", "MPa": "megapascal",
    "GPa": "gigapascal", "bar": "bar", "psf": "pound_force / square_foot",
    "ksf": "kip / square_foot", "psi": "psi", "ksi": "ksi", "plf": "pound_force / foot",
    "klf": "kip / foot", "pcf": "pound / cubic_foot",
    # temperature
    "K": "kelvin", "degC": "degree_Celsius", "degF": "degree_Fahrenheit",
    # electricity
    "A": "ampere", "mA": "milliampere", "Ah": "ampere_hour", "mAh": "milliampere_hour",
    "V": "volt", "mV": "millivolt", "kV": "kilovolt", "W": "watt", "mW": "milliwatt",
    "kW": "kilowatt", "VA": "volt_ampere", "kVA": "kilovolt_ampere", "hp": "horsepower",
    "ohm": "ohm", "mohm": "milliohm", "kohm": "kiloohm", "Mohm": "megaohm", "T": "tesla",
    "mT": "millitesla", "gauss": "gauss",
}

# Other spellings that pint reads by itself.
READ_BY_PINT = """
    metre metres meter meters millimetre millimetres millimeter millimeters
    centimetre centimetres centimeter centimeters kilometre kilometres kilometer kilometers
    micron microns foot feet inch inches yard yards mile miles thou sq_ft
    l litre litres liter liters ml gallon gallons kilogram kilograms gram grams tonne
    lbs pound pounds ounce ounces short_ton sec second seconds minute minutes hr hour hours
    days weeks hertz knots degree degrees ° radian radians turn turns revolution revolutions percent
    newton newtons kip kips joule joules pascal pascals mbar
    kelvin °C celsius °F fahrenheit amp ampere amperes volt volts watt watts horsepower
    ohms tesla
""".split() + ["\u00b5m", "\u03bcm", "\u03a9", "m\u03a9", "k\u03a9", "M\u03a9"]

# Other spellings of the trade that pint does not know, or takes for something else.
OTHER = {
    "mils": "thou", "sq_in": "square_inch", "cu_ft": "cubic_foot", "cu_yd": "cubic_yard",
    "board_feet": "board_foot", "bdft": "board_foot", "tonnes": "metric_ton", "lbm": "pound",
    "tons": "short_ton", "short_tons": "short_ton", "slugs": "slug", "hrs": "hour", "d": "day",
    "years": "common_year", "yr": "common_year", "kt": "knot", "kts": "knot", "º": "degree",
    "kp": "kilogram_force", "N-m": "newton * meter", "kN-m": "kilonewton * meter",
    "N-mm": "newton * millimeter", "lbf-ft": "pound_force * foot", "ft-lb": "pound_force * foot",
    "ft-lbs": "pound_force * foot", "lb-ft": "pound_force * foot", "lbf-in": "pound_force * inch",
    "in-lb": "pound_force * inch", "in-lbs": "pound_force * inch", "lb-in": "pound_force * inch",
    "ft-kip": "kip * foot", "ft-kips": "kip * foot", "in-kip": "kip * inch", "in-kips": "kip * inch",
    "BTU": "international_british_thermal_unit", "℃": "degree_Celsius", "℉": "degree_Fahrenheit",
    # pint takes this for a billionth of a billionth of a metre per second.
    "amps": "ampere",
    "\u2126": "ohm", "m\u2126": "milliohm", "k\u2126": "kiloohm", "M\u2126": "megaohm",
    "Gs": "gauss", "gn": "standard_gravity",
}

# As the trade writes them on drawings and data sheets.
COMPOUND = {
    "mm2": "millimeter**2", "mm^2": "millimeter**2", "mm²": "millimeter**2", "cm2": "centimeter**2",
    "m2": "meter**2", "m³": "meter**3", "cm3": "centimeter**3", "mm3": "millimeter**3",
    "mm4": "millimeter**4", "mm⁴": "millimeter**4", "cm4": "centimeter**4", "in4": "inch**4",
    "in2": "inch**2", "in3": "inch**3", "ft2": "foot**2", "ft3": "foot**3", "yd3": "yard**3",
    "m/s": "meter/second", "m*s^-1": "meter/second", "m·s⁻¹": "meter/second", "mm/s": "millimeter/second",
    "km/h": "kilometer/hour", "ft/s": "foot/second", "ft/min": "foot/minute", "in/s": "inch/second",
    "m/s2": "meter/second**2", "m/s/s": "meter/second**2", "ft/s2": "foot/second**2",
    "deg/s": "degree/second", "rev/min": "revolution/minute", "rad/s": "radian/second",
    "kN/m2": "kilonewton/meter**2", "N/mm2": "newton/millimeter**2", "kN/mm2": "kilonewton/millimeter**2",
    "N/m2": "newton/meter**2", "lbf/ft2": "pound_force/foot**2", "lbf/in2": "pound_force/inch**2",
    "kip/in2": "kip/inch**2", "kip/ft2": "kip/foot**2", "kN/m": "kilonewton/meter", "N/m": "newton/meter",
    "N/mm": "newton/millimeter", "MN/m": "meganewton/meter", "lbf/ft": "pound_force/foot",
    "lbf/in": "pound_force/inch", "lb/ft": "pound/foot", "lb/in": "pound/inch", "kg/m": "kilogram/meter",
    "lb/ft2": "pound/foot**2", "kg/m2": "kilogram/meter**2", "kg/m3": "kilogram/meter**3",
    "lb/ft3": "pound/foot**3", "lb/in3": "pound/inch**3", "kN/m3": "kilonewton/meter**3",
    "lbf/ft3": "pound_force/foot**3", "lbf/in3": "pound_force/inch**3", "g/cm3": "gram/centimeter**3",
    "kN*m": "kilonewton*meter", "kN·m": "kilonewton*meter", "kN⋅m": "kilonewton*meter",
    "kN×m": "kilonewton*meter", "N*m": "newton*meter", "lbf*ft": "pound_force*foot",
    "ft*lbf": "foot*pound_force", "lbf*in": "pound_force*inch", "ozf*in": "ounce_force*inch",
    "N*m2": "newton*meter**2", "kN*m2": "kilonewton*meter**2", "N*mm2": "newton*millimeter**2",
    "lbf*in2": "pound_force*inch**2", "Nm/rad": "newton*meter/radian", "Nm/deg": "newton*meter/degree",
    "kNm/rad": "kilonewton*meter/radian", "ft-lbf/rad": "foot*pound_force/radian",
    "kg*m2": "kilogram*meter**2", "lb*ft2": "pound*foot**2", "lb*in2": "pound*inch**2",
    "1/K": "1/kelvin", "/K": "1/kelvin", "1/degC": "1/delta_degree_Celsius",
    "1/degF": "1/delta_degree_Fahrenheit", "mm/m/K": "millimeter/meter/kelvin",
    "um/m": "micrometer/meter", "mm/m": "millimeter/meter", "in/ft": "inch/foot",
    "W/m2/K": "watt/meter**2/kelvin", "W/m/degC": "watt/meter/delta_degree_Celsius",
    "m2*K/W": "meter**2*kelvin/watt", "Btu/h": "international_british_thermal_unit/hour",
    "ft2*degF*h/Btu": "foot**2*delta_degree_Fahrenheit*hour/international_british_thermal_unit",
    "ohm/km": "ohm/kilometer", "mohm/m": "milliohm/meter", "ohm/kft": "ohm/(1000*foot)",
    "Wh/day": "watt*hour/day", "A*h": "ampere*hour", "V/m": "volt/meter", "m3/h": "meter**3/hour",
    "L/s": "liter/second", "ft3/min": "foot**3/minute", "gal/min": "gallon/minute", "1/s": "1/second",
    "ft-lbf/s": "foot*pound_force/second", "kg/day": "kilogram/day", "lb/ton": "pound/short_ton",
}

# Sums and differences of temperatures: as this project writes them, and as pint calculates them.
TEMPERATURES = {
    "-5 degC": lambda q: q(-5, "degC"),
    "-40 degF": lambda q: q(-40, "degF"),
    "-5 degC in degF": lambda q: q(-5, "degC"),
    "20 degC + 5 K": lambda q: q(20, "degC") + q(5, "delta_degC"),
    "5 K + 20 degC": lambda q: q(5, "delta_degC") + q(20, "degC"),
    "-5 degC - 5 K": lambda q: q(-5, "degC") - q(5, "delta_degC"),
    "68 degF + 10 K": lambda q: q(68, "degF") + q(10, "delta_degC"),
    "30 degC - 20 degC": lambda q: q(30, "degC") - q(20, "degC"),
    "35 degC - -20 degC": lambda q: q(35, "degC") - q(-20, "degC"),
    "68 degF - 50 degF": lambda q: q(68, "degF") - q(50, "degF"),
    "20 degC - 50 degF": lambda q: q(20, "degC") - q(50, "degF"),
    "2 * (30 degC - 20 degC)": lambda q: 2 * (q(30, "degC") - q(20, "degC")),
    "1.2e-5 1/K * (30 degC - 20 degC)": lambda q: q(1.2e-5, "1/delta_degC") * (q(30, "degC") - q(20, "degC")),
    "max(-5 degC, 20 degF)": lambda q: max(q(-5, "degC"), q(20, "degF")),
    "20 degC + 5 degC": lambda q: q(20, "degC") + q(5, "degC"),
    "2 * 20 degC": lambda q: 2 * q(20, "degC"),
    "20 degC / 2": lambda q: q(20, "degC") / 2,
    "20 degC ^ 2": lambda q: q(20, "degC") ** 2,
    "1 m * 20 degC": lambda q: q(1, "m") * q(20, "degC"),
}

BASE = {
    "[length]": "m", "[mass]": "kg", "[time]": "s", "[current]": "A", "[temperature]": "K",
}
ureg = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def row(text, expression):
    offset = 0.0
    if expression.startswith("degree_"):
        offset = ureg.Quantity(0, expression).to_base_units().magnitude
        expression = "delta_" + expression
    if expression == "gauss":
        one = ureg.Quantity(1, "gauss").to("tesla", "Gaussian").to_base_units()
    else:
        one = (1 * ureg.parse_expression(expression)).to_base_units()
    exponents = [int(one.dimensionality.get(dimension, 0)) for dimension in BASE]
    assert set(one.dimensionality) <= set(BASE), (text, one.dimensionality)
    return [text, one.magnitude, offset, exponents]


def temperature(text, calculate):
    """What comes out, as a point in kelvins or a difference; pint refuses what makes no sense."""
    strict = pint.UnitRegistry(autoconvert_offset_to_baseunit=False)
    try:
        result = calculate(strict.Quantity)
    except pint.errors.OffsetUnitCalculusError:
        return [text, "refused", None]
    unit = str(result.units)
    sort = "point" if unit in ("degree_Celsius", "degree_Fahrenheit") else "difference"
    if sort == "difference" and result.dimensionless:
        sort = "number"
    return [text, sort, result.to_base_units().magnitude]


def read_by_pint(text):
    unit = str(ureg.Unit(text))
    return row(text, unit)


def mixtures(count):
    """Units nobody writes, to try the reading of products, quotients and powers itself."""
    draw = random.Random(1811)
    plain = [pair for pair in SYMBOLS.items() if "degree_" not in pair[1] and pair[0] not in ("gauss", "%")]
    for _ in range(count):
        text, expression = "", ""
        for place in range(draw.randint(2, 4)):
            symbol, words = draw.choice(plain)
            power = draw.choice([1, 1, 1, 2, 3])
            # A symbol that ends in a digit cannot carry one more.
            raised = symbol if power == 1 or symbol == "g0" else draw.choice(["{}{}", "{}^{}"]).format(symbol, power)
            power = 1 if symbol == "g0" else power
            sign = "" if place == 0 else "/" if "/" in text else draw.choice("*·/")
            text += sign + raised
            expression += ("" if place == 0 else "/" if sign == "/" else "*") + f"(({words})**{power})"
        yield row(text, expression)


def lines(rows):
    return "[\n" + ",\n".join(json.dumps(one, ensure_ascii=False) for one in rows) + "\n]"


def main():
    named = [row(*pair) for pair in SYMBOLS.items()]
    spelled = [read_by_pint(text) for text in READ_BY_PINT] + [row(*pair) for pair in OTHER.items()]
    compound = [row(*pair) for pair in COMPOUND.items()] + list(mixtures(300))
    temperatures = [temperature(*pair) for pair in TEMPERATURES.items()]
    parts = {"symbols": named, "aliases": spelled, "compounds": compound, "temperatures": temperatures}
    text = f'{{"pint": "{pint.__version__}",\n'
    text += ",\n".join(f'"{name}": {lines(rows)}' for name, rows in parts.items()) + "}\n"
    path = pathlib.Path(__file__).parent / "data" / "units_pint.json"
    path.write_text(text, encoding="utf-8")
    print({name: len(rows) for name, rows in parts.items()}, path.stat().st_size, "bytes")


main()
