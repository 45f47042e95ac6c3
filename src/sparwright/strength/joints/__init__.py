"""What one joint can carry, as plain functions: ultimate loads in, use of its ultimate strength out.

As in strength/members: arrays broadcast, NaN in and NaN out, NaN outside a range with the reason in `outside_range`,
`working` for one load. Multiply by the fitting factor and its like before: `data.factors.highest`.

    lug     use (oblique, share of a pair), along, across, their ways to fail, out_of_plane_use, bush_use, working;
            e/D 1 to 4, W/D 1.5 to 5, t/D from 0.18, pin over hole 0.8 to 1
    pin     shear_use, tension_use, shear_and_tension, arm, bending_use, bending_strength, shear_and_bending, working
    group   loads, worst_load, use (force and moment in the plane), pulls (moment out of it), square, working
    rivet   strength, use, pull_use (tests only), per_metre, between (buckling), rules, working; t/D from 0.18
    weld    seam_length, seam_use, tube_use (cluster), foot_use (lug), rosette_use, working; tubes at 15 to 90 deg
    plate   bearing_strength (edge distance 1 D up), loose_hole, bearing_use, net_use, spread_width, strip_use,
            block_strength, working
    wood    use, embedment, plane_strength, effective, rules, working: bolts of 4.5 to 30 mm through wood between plates

What a joint of this program asks:

    strut end       lug.use (pair, share), pin.shear_use with 2 planes, pin bending, weld.tube_use of the
                    bush, weld.foot_use
    plug in a strut pin.shear_use 2 planes, plate.bearing_use on 2 walls, tube.tension_use with the hole, crush.use
    wire end        lug.use (one lug, share 1), cable.use with its end, pin.shear_use
    plates on spar  group.use of four in a square, plate.bearing_use, wood.use by block, or crush and bearing by spacer
    root straps     plate.net_use, lug.use at the pin, group.use
    tail gussets    group.use of the rivets (strength from tests), plate.bearing_use, net_use and strip_use on
                    spread_width
    hinges          plate.bearing_use times 6.67, rod ends times 3.33, cable joints times 2: data.factors.highest
    cluster         weld.tube_use of each tube
"""
