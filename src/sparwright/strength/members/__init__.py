"""What one member can carry, as plain functions: ultimate loads in, use of its ultimate strength out.

Every function takes floats or arrays and broadcasts; NaN in, NaN out; outside its range NaN, and `outside_range` says
why. `working` gives the same for one load as steps. Loads are ultimate: limit times 1.5 and the highest special factor
(data/factors.py). Strengths are plain numbers in Pa or N: the caller says whose they are and whether they may decide.

    section   area, inertia, gyration, modulus, plastic_modulus, polar, first_moment, net_area (bolt hole)
    column    use, working: curves of data/columns.csv, the lowest edition; D/t to 0.45 E/F_cy; beyond L'/rho 150 a
              caveat; slenderness, stress, lowest, johnson, local, perry, bow, price (an initial bow), allowable
    tube      tension_use (hole, or near a weld), rupture (D/t to 0.31 E/F_y, steel), rupture_without_plastic (any
              metal), bending_use, torsion_stress, torsion_use, shear_stress, shear_use, together (all at once), working
    crush     clamping, yield_force, collapse_force, flattened, use, working: a bolt through a hollow tube; R/t from 5
    cable     use (end, share of two), stiffness (E A), metal, pulley_load, pulley_caveat, working
    margin    margin, worst, and the last lines of a working
"""
