"""A converter slag of our own for tests, mass %; it adds up to 100."""

DEMO = {
    "CaO": 45.0,
    "SiO2": 14.0,
    "FeO": 18.0,
    "Fe2O3": 6.0,
    "MgO": 8.0,
    "MnO": 5.0,
    "P2O5": 2.0,
    "Al2O3": 2.0,
}
