package fastener

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Which groups go by the maker's book alone is common practice, no source.
func TestCritical(t *testing.T) {
	t.Parallel()
	for _, name := range strings.Split(strings.TrimSpace(`
wheel nut
Wheel Nuts
wheelnut
wheel-bolts
WHEEL STUD
spare wheel clamp
lug nut
lug nuts
lugnuts
knock-off spinner
centre-lock nut
brake caliper bolt
caliper
calliper bolts
caliper slide pins
brake disc bolts
disc to hub bolt
drum screw
handbrake lever bolt
brake pipe union
bleed nipples
master cylinder nut
brake servo nut
pedal box bolt
steering box bolt
steering wheel nut
steering column clamp
column clamp bolt
rack mounting bolts
drop arm nut
idler arm bolt
drag link
track rod end
track-rod ends
trackrod locknut
tie rod nut
ball joint
balljoint nuts
kingpin cotter
king pin nut
swivel nut
stub axle nut
suspension bolt
rear suspension bolts
spring hanger bolt
spring hangers
spring shackle
shackle pins
leaf spring U-bolts
u bolt
shock absorber top nut
shockers
damper bolt
strut top mount
lower arm bolt
trailing arm bush bolt
wishbone pivot
panhard rod bolt
radius arm nut
anti-roll bar clamp
roll cage bolts
camber bolts
front subframe bolt
hub nut
hub nuts
rear hub
axle nut
halfshaft nut
half shaft flange
driveshaft bolt
drive shaft nuts
propshaft bolts
prop shaft
prop bolts
UJ bolts
CV joint nut
seat belt anchor
seat belts
seatbelt bolt
belt anchorage
lap belt
belt bolt
inertia reel bolt
harness eye bolt
seat runner bolt
airbag bolt
tow bar bolts
towing eye
brake servo bolt on the wheel arch
front valve spring and brake hose union`), "\n") {
		assert.True(t, Critical(name), name)
	}
	for _, name := range strings.Split(strings.TrimSpace(`
sump plug
spark plug
cylinder head nut
cylinder head bolts
engine mount
engine mount bolt
bellhousing
bellhousing bolts
flywheel bolt
flywheel bolts
door hinge bolt
hinges
gearbox drain plug
diff bolts
rocker cover nut
manifold nuts
water pump bolt
timing cover screw
camshaft sprocket bolt
wiper arm nut
fan belt tensioner
alternator belt adjuster
drive belt tensioner
valve spring cover
valve seat
bonnet strut
tailgate struts
gas strut
bonnet prop
roof rack foot
wheel arch screw
wheel arch liner screws
distributor clamp
distributor rotor
starter motor bolt
exhaust flange nut
bumper bolt
number plate screw
sill trim screw
clutch cover bolts
radiator bolt
oil filter housing
thermostat housing
bigend bolt
main bearing cap
`), "\n") {
		assert.False(t, Critical(name), name)
	}
	assert.False(t, Critical(""))
	assert.False(t, Critical("!!! ???"))
	assert.True(t, Critical(strings.Repeat("bolt ", 10000)+"brake"))
}
