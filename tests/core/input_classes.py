"""How each field that a document may leave out is classed: see `test_needed_inputs` for what it means."""

from __future__ import annotations

NEEDED = {
    "Aeroplane": (
        "undercarriage wing propeller seats bays tanks envelopes limits owner flaps performance cruises fuel"
    ),
    "Strip": "position elevation",
    "Person": "mass height flies",
    "Air": "pressure temperature wind",
    "Trip": "settings",
    "Settings": "reserve",
    "Undercarriage": "main_arm other_arm",
    "Wing": "area span",
    "Engine": "grades oil",
    "FixedPitch": "diameter",
    "Seat": "arm height_sits_well height_fits controls",
    "Bay": (
        "arm volume length width height longest door mass_limit restraint packing_fraction "
        "accessible_in_flight may_carry"
    ),
    "MayCarry": "gas",
    "Tank": "arm usable unusable",
    "Configuration": "weighing based_on",
    "MassLimits": "takeoff",
    "OwnerLimits": "crosswind tailwind gust_spread",
    "FlapSetting": "stall stall_mass used_for",
    "DistanceTable": "over_50ft",
    "KnownDistance": "over_50ft",
    "Constants": (
        "rated_torque propeller_slope propeller_intercept zero_lift_drag efficiency flap_drag "
        "static_thrust roll_lift roll_drag landing_roll_lift landing_roll_drag idle_thrust "
        "approach_gradient float_factor friction"
    ),
    "CruiseSetting": "speed flow",
    "FuelFigures": "taxi_and_run_up climb_flow dip_error",
    "Ground": "segments state",
    "Direction": "departure approach go_around go_around_way",
    "Item": "mass size",
    "Load": "seats",
    "Leg": "takeoff_direction landing_direction fuel cruise cruise_altitude air_from",
    "SurfaceFriction": "rolling braked",
    "Restraint": "rating",
    "WeighedOnScales": "includes_oil includes_unusable_fuel",
}

#: the text that says it, and the questions that it concerns
SAID = {
    "Air.dew_point": ("assumed.dry", ""),
    "Air.pressure": ("assumed.far_pressure", ""),
    "Air.temperature": ("assumed.far_hotter", "stops"),
    "Air.wind": ("assumed.far_tailwind", "stops"),
    "MeasuredWind.gust": ("assumed.no_gust", ""),
    "Aeroplane.turn_bank": ("assumed.bank", "climbs_out"),
    "Wing.height": ("assumed.no_ground_effect", "lifts_off"),
    "Person.width": ("assumed.bench_not_measured", "fits"),
    "Seat.mass_limit": ("assumed.no_station_limit", "balances"),
    "Bay.floor_limit": ("assumed.no_floor_limit", "fits"),
    "Door.face": ("assumed.door_any_side", "fits"),
    "Door.sill": ("assumed.door_place", "fits"),
    "MassLimits.ramp": ("assumed.mass_limit", "balances"),
    "MassLimits.landing": ("assumed.mass_limit", ""),
    "MassLimits.zero_fuel": ("assumed.no_zero_fuel_limit", "balances"),
    "FlapSetting.lift_off_factor": ("assumed.speed_factor", "lifts_off"),
    "FlapSetting.at_50ft_factor": ("assumed.speed_factor", "lifts_off"),
    "FlapSetting.touchdown_factor": ("assumed.speed_factor", "stops"),
    "Constants.torque_cutoff": ("assumed.torque_cutoff", "lifts_off climbs_out"),
    "CruiseSetting.altitude_low": ("assumed.cruise_range", "reaches"),
    "CruiseSetting.altitude_high": ("assumed.cruise_range", "reaches"),
    "FuelFigures.descent_flow": ("assumed.descent_as_cruise", "reaches stops balances"),
    "FuelFigures.descent_rate": ("assumed.descent_as_cruise", "reaches stops balances"),
    "Direction.way_out": ("assumed.no_ridges", "climbs_out"),
    "WayOut.ridges": ("assumed.no_ridges", "climbs_out"),
    "WayOut.valley_width": ("assumed.no_narrows", "climbs_out"),
    "Strip.ridge_shadow": ("assumed.no_ridge_shadow", ""),
    "RidgeShadow.before_sunset": ("assumed.no_ridge_shadow", ""),
    "Leg.fuel_grade": ("assumed.fuel_grade", "balances reaches"),
    "Leg.departure": ("assumed.departs_now", ""),
    "Leg.wind_aloft": ("assumed.headwind_aloft", "reaches stops balances"),
    "Leg.alternate": ("assumed.no_alternate", ""),
    "Leg.air_to": ("assumed.far_tailwind", "stops"),
}

STATED = {
    "a limit that nobody set": (
        "Aeroplane.joint_limits OwnerLimits.mass_caps OwnerLimits.wind Strip.mass_limit Person.limits "
        "PilotLimits.crosswind PilotLimits.tailwind PilotLimits.gust_spread"
    ),
    "nothing is there, or nothing is changed": (
        "Configuration.changes Configuration.seats_out Configuration.bays_out Configuration.tanks_out "
        "Configuration.takeoff_factor Configuration.landing_factor Configuration.climb_loss "
        "Load.placed Placed.bay Placed.inside Leg.waypoints "
        "Soft.longest Soft.crush ScaleReading.tare ScaleReading.wheels"
    ),
    "without it the thing is harmless, or held as its bay is": ("Item.danger Item.held_by Item.held_rating"),
    "fuel as gas, and a battery is then tight: test_dangers": "MayCarry.fuel MayCarry.battery",
    "the whole ground": "Direction.takeoff_length Direction.landing_length",
    "that of the trip, or the only one there is": (
        "Leg.aeroplane Leg.configuration Leg.takeoff_flap Leg.landing_flap Configuration.category "
        "Configuration.undercarriage"
    ),
    "the mass of the kit list": "Placed.weighed",
    "it was alone on the scale": "Weighing.holding",
    "the other seat of the bench tells it": "Seat.width",
    "that of the leg": "Air.strip",
    "the usual kind": (
        "Person.is_a Engine.aspiration Tank.burn_order Seat.takes Seat.bench "
        "Item.upright Item.holds_things Item.stays_accessible Item.role "
        "Item.must_bays Item.not_bays Item.must_come "
        "Bay.near_controls Bay.near_exit Air.wing_wet CruiseSetting.speed_is Envelope.axes "
        "Envelope.origin DistanceTable.origin ClimbTable.origin DistanceTable.temperature_is "
        "ClimbTable.temperature_is DistanceTable.technique KnownDistance.technique "
        "Constants.technique DistanceTable.surface DistanceTable.holds Leg.technique"
    ),
    "it holds for every configuration or flap": (
        "DistanceTable.configurations ClimbTable.configurations KnownDistance.configurations "
        "Constants.configurations DistanceTable.flap ClimbTable.flap KnownDistance.flap"
    ),
    "that of the constants": "Aeroplane.approach_gradient",
    "by the factors": "DistanceTable.headwind_rule DistanceTable.tailwind_rule",
    "the climb speed of the flap, or the best one by the constants": (
        "ClimbTable.speed FlapSetting.climb_speed"
    ),
    "counted from 50 ft": "KnownDistance.from_height",
    "a roll is never held against a length": "DistanceTable.roll KnownDistance.roll",
    "a flap that is up has no drag of its own; another needs it": "FlapSetting.angle",
    "the worse of those that can answer decides": (
        "Aeroplane.prefer Preferred.takeoff Preferred.climb Preferred.landing"
    ),
    "short grass is short": "SurfaceState.grass_height",
    "from true north; and an empty sock need not say": "Sock.wind_from Sock.against MeasuredWind.against",
    "the settings of the method": (
        "Settings.contingency Settings.takeoff_safety Settings.landing_safety "
        "Settings.obstacle_clearance Settings.ridge_clearance Settings.sinking_air "
        "Settings.least_gradient Settings.air_age Settings.surface_age Settings.before_sunset "
        "Settings.far_hotter Settings.far_tailwind Settings.headwind_aloft Settings.reaction_time "
        "Settings.weight_sd Settings.tight TightBounds.distance TightBounds.climb_rate "
        "TightBounds.envelope TightBounds.fuel_time TightBounds.bulk TightBounds.mass "
        "TightBounds.daylight TightBounds.wind"
    ),
    "by its origin": "Figure.sd Weighing.sd",
}

UNUSED = {
    "it names, tells or reminds": (
        "Aeroplane.registration Aeroplane.class_of Aeroplane.datum Aeroplane.base "
        "Aeroplane.variant_of Aeroplane.quirks Quirk.at Quirk.flap Quirk.configuration Strip.code "
        "Strip.has_sock Strip.has_water Strip.fuel FuelOnSale.seen FuelOnSale.hours Engine.name "
        "FixedPitch.name ConstantSpeed.name Direction.committed_at Leg.name Trip.people Trip.kits "
        "Item.owner Item.worth Person.mass_is_private Placed.locked "
        "Placed.packed WindAloft.origin Restraint.rings WeighedOnScales.date"
    ),
    "only what the dial shows rests on it": (
        "Aeroplane.speeds Aeroplane.dial_first_mark SpeedLimits.manoeuvring SpeedLimits.normal "
        "SpeedLimits.never_exceed FlapSetting.correction FlapSetting.limit_speed"
    ),
    "another hour, a run-up, a what-if, a fit: not these answers": (
        "Air.day Aeroplane.run_up RunUpBaseline.tachometer_error Engine.rated_power "
        "Engine.rated_rotation FixedPitch.rotation_limit FixedPitch.blades "
        "CruiseSetting.rotation Constants.fitted Constants.seen FuelFigures.climb_speed Trip.nights "
        "Trip.water_per_day Ground.width"
    ),
    "how it is shown": (
        "Settings.units Settings.look UnitChoice.mass UnitChoice.length UnitChoice.height "
        "UnitChoice.distance UnitChoice.speed UnitChoice.temperature UnitChoice.pressure "
        "UnitChoice.volume"
    ),
    "entered and kept, and read by nothing": (
        "Engine.critical_altitude FixedPitch.pitch RidgeShadow.after_sunrise"
    ),
    "what is packed where when all else is equal": "Bay.floor_height",
    "merging": "Stamp.count Stamp.over",
    "another kind of propeller: tested in test_governed": (
        "ConstantSpeed.diameter ConstantSpeed.rotation_limit ConstantSpeed.efficiency"
    ),
    "as for a weighing on scales": (
        "WeighedAsMassAndArm.date WeighedAsMassAndArm.includes_oil WeighedAsMassAndArm.includes_unusable_fuel"
    ),
    "defaults of a whole that is tested by its parts": "Aeroplane.engine",
}

#: things of the case that this leg does not use, whatever class they are of
IDLE = (
    "/plover/flaps/up",
    "/heath/directions/25",
    "/moor/directions/25",
    "/heath/directions/07/approach",
    "/heath/directions/07/go_around",
    "/heath/directions/07/go_around_way",
    "/moor/directions/07/departure",
    "/moor/directions/07/way_out",
    "/plover/performance/constants/friction/paved_dry",
    "/plover/performance/constants/friction/grass_short_wet",
    "/heath/ridge_shadow",
)
#: one occurrence of a needed field that is not, with the reason
EXCEPT = {
    "/lark/flies": "the other one flies",
    "/plover/seats/right/controls": "the other seat has them",
    "/plover/flaps/first/used_for": "the leg names the flap",
    "/plover/flaps/full/used_for": "the leg names the flap",
    "/camp/items/tent/mass": "it was weighed again for this load",
    "/plover/bays/hold/accessible_in_flight": "nothing in it must stay in reach; `must_stay` shows it",
    "/air-moor/pressure": "derived adversely",
    "/air-moor/temperature": "derived adversely",
    "/air-moor/wind": "derived adversely",
    "/plover/flaps/full/lift_off_factor": "a landing flap",
    "/plover/flaps/full/at_50ft_factor": "a landing flap",
    "/plover/flaps/first/touchdown_factor": "a take-off flap",
    "/plover/performance/constants/friction/grass_short_dry/rolling": "",
    "/air-heath/pressure": "needed",
    "/air-heath/temperature": "needed",
    "/air-heath/wind": "needed",
    "/moor/ground/state/grass_height": "",
}


def needed() -> set[str]:
    return {f"{name}.{field}" for name, fields in NEEDED.items() for field in fields.split()}


def listed(groups: dict[str, str]) -> set[str]:
    return {field for fields in groups.values() for field in fields.split()}
