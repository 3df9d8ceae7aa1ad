"""A full-load pull on an inertia dyno, from stated physics.

The engine turns a flywheel and nothing else, so that Newton's law for rotation is all there is:

    dw/dt = T(w) / I

T is the full-load torque curve of an invented 2.0 l turbocharged engine, I the moment of inertia of
flywheel and crank together. The flywheel is sized so that the pull from 4000 rpm takes about 12 s.
The oil warms evenly over the pull, the coolant is held by the cell.
"""

import dataclasses
import math

RPM = 2.0 * math.pi / 60.0

FULL_LOAD_RPM = (1000.0, 2000.0, 3000.0, 4000.0, 5000.0, 6250.0, 7250.0, 8000.0, 8400.0)
FULL_LOAD_N_M = (120.0, 190.0, 280.0, 360.0, 415.0, 440.0, 425.0, 401.0, 388.0)

INERTIA_KG_M2 = 12.5
FROM_RAD_S = 4000.0 * RPM
DURATION_S = 12.0
STEP_S = 0.02
OIL_FROM_K = 375.0
OIL_RISE_K_PER_S = 0.5
COOLANT_K = 363.0


@dataclasses.dataclass(frozen=True)
class Pull:
    """Equal-length samples in SI."""

    time_s: list[float]
    engine_speed_rad_s: list[float]
    engine_torque_n_m: list[float]
    oil_temp_k: list[float]
    coolant_temp_k: list[float]

    def revolutions(self) -> float:
        """Crank revolutions: the integral of speed (trapezoids) over 2 pi."""
        return _integral(self.engine_speed_rad_s, self.time_s) / (2.0 * math.pi)

    def work_j(self) -> float:
        """Work of the engine on the flywheel: the integral of torque times speed."""
        power = [t * w for t, w in zip(self.engine_torque_n_m, self.engine_speed_rad_s)]
        return _integral(power, self.time_s)

    def kinetic_energy_gained_j(self) -> float:
        """What the flywheel holds more at the end than at the start."""
        first, last = self.engine_speed_rad_s[0], self.engine_speed_rad_s[-1]
        return 0.5 * INERTIA_KG_M2 * (last**2 - first**2)


def _integral(values: list[float], at: list[float]) -> float:
    pairs = zip(zip(values, values[1:]), zip(at, at[1:]))
    return sum(0.5 * (one + two) * (end - start) for (one, two), (start, end) in pairs)


def full_load_n_m(speed_rad_s: float) -> float:
    """Full-load torque, straight between the points of the curve."""
    rpm = speed_rad_s / RPM
    points = list(zip(FULL_LOAD_RPM, FULL_LOAD_N_M))
    for (low, torque_low), (high, torque_high) in zip(points, points[1:]):
        if rpm <= high:
            share = max(0.0, (rpm - low) / (high - low))
            return torque_low + share * (torque_high - torque_low)
    return points[-1][1]


def inertia_pull() -> Pull:
    """Integrates the pull (midpoint rule) and samples it at 50 Hz."""
    steps = round(DURATION_S / STEP_S)
    time_s = [step * STEP_S for step in range(steps + 1)]
    speed = [FROM_RAD_S]
    for _ in range(steps):
        halfway = speed[-1] + 0.5 * STEP_S * full_load_n_m(speed[-1]) / INERTIA_KG_M2
        speed.append(speed[-1] + STEP_S * full_load_n_m(halfway) / INERTIA_KG_M2)
    pull = Pull(
        time_s=time_s,
        engine_speed_rad_s=speed,
        engine_torque_n_m=[full_load_n_m(w) for w in speed],
        oil_temp_k=[OIL_FROM_K + OIL_RISE_K_PER_S * t for t in time_s],
        coolant_temp_k=[COOLANT_K for _ in time_s],
    )
    # Work done is energy gained: what the integration may be wrong by.
    error = abs(pull.work_j() / pull.kinetic_energy_gained_j() - 1.0)
    if error > 1e-3:
        raise ArithmeticError(f"work and kinetic energy differ by {error:.2%}")
    return pull
