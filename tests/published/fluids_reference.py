"""Prints reference values of the fluids library, one "name value" a line, for fluids_library_test.cpp.

Exits with 3 if the library cannot be imported.
"""
import sys

try:
    import fluids
    from fluids import atmosphere, filters, fittings, flow_meter
except ImportError as reason:
    print(reason, file=sys.stderr)
    sys.exit(3)


def show(name, value):
    print(f"{name} {value:.12g}")


for percent in range(10, 91, 5):
    show(f"screen_{percent}", filters.square_edge_screen(percent / 100.0))
for percent in range(10, 100, 10):
    show(f"grill_{percent}", filters.square_edge_grill(percent / 100.0))
for reynolds in (20, 30, 40, 60, 80, 100, 200, 400):
    show(f"wire_{reynolds}", filters.round_edge_screen(0.45, reynolds))

for altitude in range(0, 10001, 1000):
    air = atmosphere.ATMOSPHERE_1976(float(altitude))
    show(f"temperature_{altitude}", air.T)
    show(f"pressure_{altitude}", air.P)
    show(f"density_{altitude}", air.rho)
    show(f"viscosity_{altitude}", air.mu)
    show(f"conductivity_{altitude}", air.k)

for method in ("Rennels", "Swamee", "Miller"):
    show(f"entrance_{method}", fittings.entrance_sharp(method=method))
show("exit", fittings.exit_normal())
for percent in range(10, 100, 10):
    ratio = percent / 100.0
    show(f"widening_{percent}", fittings.diffuser_sharp(Di1=ratio, Di2=1.0))
for method in ("Rennels", "Miller", "Crane", "Blevins"):
    show(f"mitre_{method}",
         fittings.bend_miter(angle=90.0, Di=0.1, Re=1e5, roughness=0.0, method=method))

for pipe_reynolds in (14000, 34000, 69000):
    rho, mu, diameter = 1.2, 1.8e-5, 0.1
    mass_flow = pipe_reynolds * mu * diameter * 3.141592653589793 / 4.0
    show(f"orifice_{pipe_reynolds}", flow_meter.C_Reader_Harris_Gallagher(
        D=diameter, Do=0.05, rho=rho, mu=mu, m=mass_flow, taps="corner"))
