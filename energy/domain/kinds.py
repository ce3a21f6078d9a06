"""The kinds of appliance and of power source, in the trade's words."""

APPLIANCE_KINDS: list[tuple[str, str]] = [
    ("pressure_cooker", "pressure cooker"),
    ("induction_plate", "induction plate"),
    ("rice_cooker", "rice cooker"),
    ("kettle", "kettle"),
    ("slow_cooker", "slow cooker"),
    ("skillet", "electric skillet"),
    ("griddle", "griddle"),
    ("air_fryer", "air fryer"),
    ("oven", "small oven"),
    ("other", "other electric cooker"),
]

SOURCE_KINDS: list[tuple[str, str]] = [
    ("battery_station", "battery station"),
    ("vehicle_inverter", "vehicle inverter"),
    ("hook_up", "campsite hook-up"),
    ("mains", "house mains"),
]

METER_PLACES: list[tuple[str, str]] = [
    ("socket", "at the socket, between source and cooker"),
    ("battery", "on the battery's own display"),
]
