"""Real parts for the tests of the bench: an invented loom and the rows around it."""

# A horn, its button, a fuse and a two-filament rear lamp: small enough to follow by
# hand, with a standing feed, a switched feed, a return and a plug in it.
BENCH_TOML = """\
schema = 1
title  = "Bench example: horn and rear lamp"
volts  = 12
earth  = "negative"

[places.battery-tray]
name = "Battery tray"
access_minutes = 3

[places.headlamp-shell]
name = "Headlamp shell"
access_minutes = 4

[places.rear-mudguard]
name = "Rear mudguard"
access_minutes = 2

[devices.battery]
kind = "battery"
emf = 12.6
ohms = 0.02
place = "battery-tray"

[devices.frame]
kind = "body"

[devices.main-fuse]
kind = "fuse"
amps = 15
place = "battery-tray"

[devices.key-switch]
kind = "switch"
positions = ["OFF", "ON"]
joins = { ON = [["30", "15"]] }
place = "headlamp-shell"

[devices.horn-button]
kind = "switch"
momentary = true
positions = ["OUT", "PRESSED"]
joins = { PRESSED = [["1", "2"]] }
place = "headlamp-shell"

[devices.brake-switch]
kind = "switch"
momentary = true
positions = ["OUT", "PRESSED"]
joins = { PRESSED = [["1", "2"]] }
place = "rear-mudguard"

[devices.horn]
kind = "load"
watts = 30
at_volts = 12
place = "headlamp-shell"

[devices.rear-lamp]
kind = "lamp"
filaments = [
  { name = "tail", pins = ["T", "E"], watts = 5 },
  { name = "stop", pins = ["S", "E"], watts = 21 },
]
place = "rear-mudguard"

[devices.tail-plug]
kind = "plug"
cavities = ["1", "2", "3"]
place = "rear-mudguard"

[[wires]]
id = "1"
from = "battery.pos"
to = "main-fuse.1"
colour = "RD"
mm2 = 1.5
metres = 0.3

[[wires]]
id = "2"
from = "main-fuse.2"
to = "key-switch.30"
colour = "RDWH"
mm2 = 1.5
metres = 0.9

[[wires]]
id = "3"
from = "key-switch.15"
to = "horn.1"
colour = "BU"
mm2 = 1.0
metres = 0.4

[[wires]]
id = "4"
from = "horn.2"
to = "horn-button.1"
colour = "GYBK"
mm2 = 1.0
metres = 0.6

[[wires]]
id = "5"
from = "horn-button.2"
to = "frame.steering-head"
colour = "BN"
mm2 = 1.0
metres = 0.3

[[wires]]
id = "6"
from = "key-switch.15"
to = "tail-plug.1a"
colour = "BUWH"
mm2 = 1.0
metres = 1.3

[[wires]]
id = "7"
from = "tail-plug.1b"
to = "rear-lamp.T"
colour = "GY"
mm2 = 0.75
metres = 0.4

[[wires]]
id = "8"
from = "key-switch.15"
to = "brake-switch.1"
colour = "BU"
mm2 = 1.0
metres = 1.1

[[wires]]
id = "9"
from = "brake-switch.2"
to = "tail-plug.2a"
colour = "BKRD"
mm2 = 1.0
metres = 0.3

[[wires]]
id = "10"
from = "tail-plug.2b"
to = "rear-lamp.S"
colour = "BKRD"
mm2 = 0.75
metres = 0.4

[[wires]]
id = "11"
from = "rear-lamp.E"
to = "tail-plug.3b"
colour = "BN"
mm2 = 0.75
metres = 0.4

[[wires]]
id = "12"
from = "tail-plug.3a"
to = "frame.rear"
colour = "BN"
mm2 = 1.0
metres = 0.2

[[wires]]
id = "13"
kind = "strap"
from = "battery.neg"
to = "frame.battery"
colour = "BK"
mm2 = 10
metres = 0.3
"""
