"""Writes pint.toml: the SI size of every unit according to Pint, a units library for Python (pip install pint==0.25.3).

Run: python tests/units/make_pint.py > tests/units/pint.toml
"""

import pint

ureg = pint.UnitRegistry()

# Our identifier: Pint's expression. Btu_it is the International Table Btu; Pint's plain Btu is the rounded ISO one.
UNITS = """
um: micrometer | mm: millimeter | cm: centimeter | m: meter | km: kilometer | inch: inch | ft: foot | yd: yard
mile: mile | thou: thou
mm2: mm**2 | cm2: cm**2 | m2: m**2 | in2: inch**2 | ft2: foot**2
mm3: mm**3 | cm3: cm**3 | cc: cc | m3: m**3 | L: liter | in3: inch**3 | gal_us: gallon | gal_imp: imperial_gallon
mm4: mm**4 | in4: inch**4
ms: millisecond | s: second | min: minute | h: hour | day: day
deg: degree | rad: radian | arcmin: arcminute | arcsec: arcsecond | turn: turn
rpm: rpm | rad_per_s: radian/second | rad_per_s2: radian/second**2 | Hz: 1/second | cycles_per_min: 1/minute
m_per_s: m/s | km_per_h: km/hour | mph: mile/hour | ft_per_s: foot/second | m_per_s2: m/s**2 | gee: standard_gravity
g: gram | kg: kilogram | lb: pound | oz: ounce | slug: slug | tonne: tonne
kg_per_m3: kg/m**3 | lb_per_in3: pound/inch**3 | lb_per_ft3: pound/foot**3 | kg_per_m: kg/m | lb_per_ft: pound/foot
g_per_m2: gram/m**2 | oz_per_ft2: ounce/foot**2 | kg_per_s: kg/s
N: newton | kN: kilonewton | lbf: pound_force | kgf: kilogram_force | N_per_mm: newton/mm | lbf_per_in: pound_force/inch
N_m: newton*meter | lbf_ft: pound_force*foot | lbf_in: pound_force*inch | N_m_per_deg: newton*meter/degree
g_mm: gram*mm | oz_in: ounce*inch
Pa: pascal | kPa: kilopascal | MPa: megapascal | GPa: gigapascal | psi: pound_force/inch**2 | ksi: 1000*pound_force/inch**2
bar: bar | mbar: millibar | inHg: inch_Hg
J: joule | kJ: kilojoule | Wh: watt*hour | mW: milliwatt | W: watt | kW: kilowatt | hp: horsepower | hp_metric: metric_horsepower
BTU_per_h: Btu_it/hour | ton_cooling: 12000*Btu_it/hour
A: ampere | mA: milliampere | V: volt | mV: millivolt | ohm: ohm | mohm: milliohm | Ah: ampere*hour | C: coulomb
ohm_per_m: ohm/m | mohm_per_m: milliohm/m | ohm_per_kft: ohm/(1000*foot)
degC: delta_degree_Celsius | degF: delta_degree_Fahrenheit | K: kelvin
delta_degC: delta_degree_Celsius | delta_degF: delta_degree_Fahrenheit
W_per_m2: watt/m**2 | W_per_m_K: watt/(m*kelvin) | W_per_m2_K: watt/(m**2*kelvin)
m3_per_h: m**3/hour | L_per_min: liter/minute
percent: percent | mm_per_m: mm/m
"""

BASES = {"meter": "m", "kilogram": "kg", "second": "s", "ampere": "A", "kelvin": "K", "radian": "rad"}
ORDER = list(BASES.values())


def powers(quantity):
    """Powers of m, kg, s, A, K, rad. (Pint keeps an angle that our rules drop where a mass and a length are.)"""
    found = dict.fromkeys(ORDER, 0)
    for base, power in quantity.unit_items():
        found[BASES[base]] += power
    return [int(found[base]) for base in ORDER]


print(f"# Written by make_pint.py with Pint {pint.__version__}; not to be edited by hand.")
print("# `si`: SI units in one unit; `powers`: of m, kg, s, A, K, rad; `at_100`: the SI value of 100 on a scale of points.")
for row in UNITS.replace("\n", "|").split("|"):
    if not row.strip():
        continue
    name, expression = (part.strip() for part in row.split(":"))
    # As a product of numbers: 1 * unit in base units, keeping radian as a base.
    size = ureg.Quantity(1, "dimensionless") * ureg.parse_expression(expression)
    base = size.to_base_units()
    print(f'\n[[unit]]\nname = "{name}"\nsi = {float(base.magnitude)!r}\npowers = {powers(base)}')
    points = {"degC": "degC", "degF": "degF"}
    if name in points:
        print(f"at_100 = {float(ureg.Quantity(100, points[name]).to('kelvin').magnitude)!r}")
