"""What a new shop starts with: six common jobs and a final check, for it to edit.

The hours are guesses to begin with (common practice, no source). Each step is
(operation, optimistic, likely and pessimistic hours, kind, numbers of the steps that
must come first, caution).
"""

from decimal import Decimal

from django.db import migrations

Step = tuple[str, str, str, str, str, tuple[int, ...], str]

ISOLATE = (
    "Key off and battery isolated before any resistance test, unplugging or wiring "
    "work: lift the lead that goes to the frame first and put it back last, whichever "
    "pole that is on this bike, and stow it so that it cannot spring back. Rings, "
    "watch and chains off."
)
LIFT = (
    "Never trust a jack alone: stand or bench clamp, wheel chocked. The balance "
    "changes as parts come off. Share heavy lifts."
)
FUEL = (
    "Petrol vapour is heavier than air, travels, and lights even in the cold: drain "
    "outdoors or well ventilated, into a proper container, no ignition source, "
    "extinguisher at hand. Never on a hot engine."
)
FUMES = (
    "Run the engine only outdoors or with exhaust extraction: carbon monoxide. "
    "Exhaust and engine burn; keep clothes and leads clear of chain and wheel."
)
SPARK = (
    "Ignition voltage: hands off the leads with the engine turning, and no cranking "
    "with a plug lead open; earth it. Worse for anyone with a pacemaker."
)
CHARGING = (
    "Charging gives hydrogen and acid mist: ventilate, no flame, spark or hot object "
    "near the battery. Goggles and gloves for acid, water ready."
)
FUSE = "Never a larger fuse, foil or wire: the fuse guards the wire. Find why it blew."
LAMP = (
    "A test lamp draws current: not on electronic modules. Do not pierce insulation "
    "on a bike that will get wet. " + ISOLATE
)
DUST = (
    "Old friction linings may hold asbestos: no blowing out and no dry brushing; wet "
    "it, mask and gloves, and dispose of it as the local rules say."
)

R, S, F, C = "restoration", "repair", "fault_finding", "check"

JOBS: tuple[tuple[str, str, tuple[Step, ...]], ...] = (
    (
        "Full strip and rebuild",
        "Down to the bare frame and back, with every part tagged.",
        (
            ("Record the bike as it came: photos, numbers, routes of cables and loom",
             "1.5", "2.5", "4", R, (), ""),
            ("Drain fuel and fluids", "0.5", "1", "2", R, (1,), FUEL),
            ("Battery out, loom off, each branch labelled",
             "2", "4", "8", R, (1,), ISOLATE),
            ("Tank, seat, bodywork and exhaust off", "1.5", "3", "6", R, (2, 3), ""),
            ("Engine out of the frame", "1.5", "3", "6", R, (4,), LIFT),
            ("Wheels, forks and rear suspension off", "2", "4", "8", R, (5,), LIFT),
            ("Clean and judge every part: refit, recondition, replace",
             "8", "14", "30", R, (6,), ""),
            ("Frame and cycle parts to finish and back",
             "2", "4", "10", R, (7,), ""),
            ("Frame on its wheels again", "6", "10", "18", R, (8,), LIFT),
            ("Engine and gearbox in", "3", "5", "9", R, (9,), LIFT),
            ("Loom in, every consumer proven", "6", "10", "20", R, (9,), ISOLATE),
            ("Bodywork, tank and controls on, cables set",
             "5", "9", "16", R, (10, 11), ""),
            ("First start and settings", "1.5", "3", "8", C, (12,), FUMES),
            ("Road test, then go over every fastener", "1.5", "2.5", "5", C, (13,), ""),
        ),
    ),
    (
        "Rewire",
        "A new loom to the drawing of this very bike.",
        (
            ("Note polarity, volts, and every change to the drawing",
             "1", "2", "4", F, (), ""),
            ("Isolate the battery, old loom out in one piece",
             "1.5", "3", "6", R, (1,), ISOLATE),
            ("Make the new loom on the board: sizes and colours to the drawing",
             "6", "10", "18", R, (2,), ""),
            ("Measure each wire end to end before it goes in",
             "0.5", "1", "2", C, (3,), ""),
            ("Loom in, returns cleaned to bright metal", "4", "7", "12", R, (4,), ""),
            ("Fuse in the standing feed, rated for the thinnest wire behind it",
             "0.5", "1", "2", R, (5,), FUSE),
            ("First power through a lamp in series, then every consumer",
             "1", "2", "5", C, (6,), LAMP),
            ("Charging measured, drops measured under load",
             "0.5", "1", "2.5", C, (7,), FUMES),
        ),
    ),
    (
        "Top end",
        "Head and barrel off, measured, and back.",
        (
            ("Compression and leak-down while it still runs",
             "0.5", "1", "2", C, (), FUMES),
            ("Tank, carburettor and exhaust off", "0.75", "1.5", "3", S, (1,), FUEL),
            ("Head and barrel off; ring gap, bore and piston measured",
             "1.5", "3", "6", S, (2,), "Let the engine cool before it is opened."),
            ("Valves, guides and seats: measure, recondition",
             "2", "4", "10", S, (3,), ""),
            ("Rebore or hone, fit piston and rings", "1", "2", "5", S, (3,), ""),
            ("Head and barrel on, torque in steps, tappets set",
             "2", "3", "6", S, (4, 5), ""),
            ("Heat cycles, tighten again, tappets again",
             "1", "1.5", "3", C, (6,), FUMES),
        ),
    ),
    (
        "Carburettors",
        "Off, clean, set up and balanced.",
        (
            ("Drain and take off", "0.5", "1", "2", S, (), FUEL),
            ("Strip; clean; note every jet and needle position",
             "1", "2", "4", S, (1,),
             "Goggles and gloves; solvents away from any flame, well ventilated."),
            ("Float height, needle and seat, throttle bores for wear",
             "0.5", "1", "3", S, (2,), ""),
            ("On again, cables free and set, no air leaks",
             "0.75", "1.5", "3", S, (3,), FUEL),
            ("Mixture, idle and balance, engine warm", "0.5", "1", "3", C, (4,), FUMES),
        ),
    ),
    (
        "Wheels",
        "Bearings, rims, spokes, tyres and brakes.",
        (
            ("Bike up and held, wheels out", "0.5", "1", "2", S, (), LIFT),
            ("Bearings, rims and spokes judged; offset written down",
             "0.5", "1", "2", S, (1,), ""),
            ("Unlace, rims and hubs to finish and back", "1", "2", "4", R, (2,), ""),
            ("Lace and true", "3", "5", "9", R, (3,), ""),
            ("Bearings in, tyres and tubes on", "1.5", "2.5", "4", S, (4,),
             "Eyes away from the bead; never above the pressure on the tyre's wall."),
            ("Brakes cleaned, linings measured, set", "1", "2", "4", S, (1,), DUST),
            ("Wheels in, aligned, spindle nuts to torque and pinned",
             "1", "1.5", "3", S, (5, 6), LIFT),
        ),
    ),
    (
        "Electrical fault hunt",
        "From the complaint to the proof, one finding after the other.",
        (
            ("Hear the complaint, see it happen, note polarity and volts",
             "0.25", "0.5", "1", F, (), ""),
            ("Battery: look, rest volts, volts under load",
             "0.25", "0.5", "1", F, (1,), CHARGING),
            ("Choose the drawing, open the case", "0.25", "0.5", "1", F, (1,), ""),
            ("Test as advised until the fault is proven",
             "0.5", "1.5", "6", F, (2, 3), LAMP + " " + SPARK),
            ("Repair", "0.5", "1", "4", S, (4,), ISOLATE + " " + FUSE),
            ("Repeat the tests that failed; charging and draw measured",
             "0.25", "0.5", "1.5", C, (5,), FUMES),
        ),
    ),
)

POINTS: tuple[tuple[str, str], ...] = (
    ("The complaint is gone, in the customer's own words", ""),
    ("Brakes: bite, travel, no leak, lever and pedal return", ""),
    ("Steering free from lock to lock, no play; cables and loom not pulled", ""),
    ("Wheels: spindle nuts and pins, spokes, bearings, tyre pressures", LIFT),
    ("Chain or drive: tension, alignment, guard", "Engine off, hands clear."),
    ("Fuel: no leak at tap, pipe or carburettor", FUEL),
    ("Oil levels, no leaks after a warm run", FUMES),
    ("Throttle snaps shut in every position of the bars", ""),
    ("Headlamp, dip, tail, brake lamp by lever and by pedal, horn, signals", ""),
    ("Charging at the battery within limits", FUMES),
    ("Fuses of the right rating, spare ones with the bike", FUSE),
    ("Battery leads tight, vent pipe clear, nothing chafes", ISOLATE),
    ("Fasteners that were undone are tight and marked", ""),
    ("Short road test, then looked over again", "Insured, helmet on, brakes first."),
    ("Tools, rags and old parts off the bike; owner's parts set aside", ""),
)


def put(apps, schema_editor):
    """Write the jobs and points, where there are none yet."""
    template_model = apps.get_model("shop", "TaskTemplate")
    step_model = apps.get_model("shop", "TemplateStep")
    point_model = apps.get_model("shop", "CheckPoint")
    for name, description, steps in JOBS:
        template = template_model.objects.create(name=name, description=description)
        made = []
        for place, (operation, a, m, b, kind, after, caution) in enumerate(steps, 1):
            step = step_model.objects.create(
                template=template,
                position=place,
                operation=operation,
                labour_kind=kind,
                caution=caution,
                optimistic_hours=Decimal(a),
                likely_hours=Decimal(m),
                pessimistic_hours=Decimal(b),
            )
            made.append(step)
            step.after.set([made[number - 1] for number in after])
    for place, (text, caution) in enumerate(POINTS, 1):
        point_model.objects.create(position=place, text=text, caution=caution)


class Migration(migrations.Migration):
    """Put the rows."""

    dependencies = [("shop", "0012_plans")]
    operations = [migrations.RunPython(put, migrations.RunPython.noop)]
