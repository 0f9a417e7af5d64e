// Package fastener answers «how tight» for a bolt, screw or nut: the assembly
// torque and preload of VDI 2230-1, limited by the bolt and by the hole it is
// screwed into. It is pure and may import unit only.
//
// # Model
//
// Preload and torque follow VDI 2230-1 (2003 and later): the bolt is used to
// ν = 0.9 of its 0.2 % proof strength under tension and full plastic torsion.
// Tables of the generation before count the torsion elastically and are 8 to
// 10 % lower.
//
//	FM = ν·Rp0.2·As / √(1 + 3·(1.5·d2/ds·(P/(π·d2) + μG/cos α))²)
//	MA = FM·(P/(2π) + d2·μG/(2·cos α) + DKm/2·μK)
//
// α is the flank angle: 30° for ISO and Unified threads, 27.5° for Whitworth,
// 23.75° for BA. VDI 2230 prints the 30° case with 0.16·P, 0.58·d2·μG and
// 1.155·μG, which are these terms rounded.
//
// # Which torque is set
//
// Friction is a range, never a number. The torque to set is MA at the lowest
// friction of the range, as VDI 2230-1 does: whatever the friction turns out to
// be inside the range, in the thread or under the head, the bolt stays at or
// below 90 % of yield. More friction costs preload, and the Result says how much;
// it never adds stress.
//
// # Hole
//
// Shear areas follow FED-STD-H28/2B on basic dimensions. A hole is deep enough
// when the bolt would break before either thread strips; 0.8 of a pitch of the
// engagement is not counted, for chamfer and first turn (after VDI 2230-1, from
// memory). In a shallower hole the preload is cut in proportion, so that the hole
// keeps the margin against stripping that the bolt has against breaking. The
// shear strengths of holes are assumptions (see Material) and said in the Result.
//
// # Where the figures come from
//
// Each table names its source. The tables of testdata/numbers repeat published
// values, with how each was come by, and every row is tested.
package fastener
