# ruff: noqa: C901, FURB136, PLR0912, PLR0913, PLR0915, PLR0917, SIM300 - one loop that is compiled
"""One turn of the cam with the follower as a mass of its own: the second loop that is compiled.

z      place of the follower, as felt at the valve (m)        y   lift of the lobe there
e      how far the plunger of a hydraulic follower stands out beyond where it was set; 0 in a solid one
F_L    = max(0, K_L (y - z) + C_L (y' - z')) while y > z, else 0
d      = z + e - lash - x
F_T    = max(0, K_T d + C_T (z' - x')) while d > 0, else 0        (K_T: oil and linkage in series)
m_f z'' = F_L - F_T - hold
e'     = -leak F_T while F_T > 0, else refill until d = 0; between bottom and stop

The valve, its seat, the spring and its waves are those of `sweep.py` with F_T for F, and `friction` of a damper
between the spring's members against the valve's speed: it holds the valve where it can, and slides where it cannot.
The scheme is that of `stepping.py`; the damping of both masses at a step's end is found together.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats
from loadbench.motion import stepping

Z, U, B, E = 4, 5, 6, 7
"""More rows of the state: place of the follower, its speed, its acceleration; how far the plunger stands out."""

STATES = 8

TIP_PEAK, TIP_PEAK_AT, TIP_LEAST, TIP_LEAST_AT, PLUNGER_LOW, PLUNGER_HIGH = range(stepping.NOTED, stepping.NOTED + 6)
"""More rows of what is noted: the linkage's force as the lobe's, least and greatest place of the plunger, m."""

NOTED = stepping.NOTED + 6

LASH, FOLLOWER_INVERSE, LOBE_K, LOBE_C, HOLD, FRICTION, LEAK, REFILL, LOWEST, HIGHEST = range(6, 16)
"""More constants: m, 1/kg, N/m, N s/m, N, N, m/(N s), m/s, m, m."""


def turn(
    lobe: Floats,
    slope: Floats,
    closing: Floats,
    step: Floats,
    constants: Floats,
    modes: Floats,
    state: Floats,
    waves: Floats,
    noted: Floats,
    window: tuple[int, int],
    force: Floats,
    tip_force: Floats,
    every: int,
) -> None:
    """Step all speeds through one turn of the cam, and note what happens.

    Args:
        lobe: lift of the lobe at the valve, at the end of each step, m, shape (steps,).
        slope: its change a step there, m, shape (steps,).
        closing: load that closes the valve besides the spring's rate (preload, gas), N, shape (steps,).
        step: length of a step, s, shape (speeds,).
        constants: as named here and in `stepping`, shape (16,).
        modes: as in `stepping`, shape (modes, 5).
        state: changed in place, shape (8, speeds).
        waves: state of the modes, changed in place, shape (3, modes, speeds).
        noted: filled, shape (17, speeds); the first rows are of the lobe's force.
        window: first and last step within which the least force counts.
        force: filled with the lobe's force at every `every`-th step, N, shape (steps // every, speeds).
        tip_force: likewise with the linkage's.
        every: see there.

    Source:
        own derivation: leapfrog of the equations above.
    """
    speeds = step.size
    K, C, rate, seat_k, seat_c, inverse = (
        constants[0], constants[1], constants[2], constants[3], constants[4], constants[5],
    )  # fmt: skip
    lash, light, lobe_K, lobe_C, hold, friction, leak, refill, lowest, highest = (
        constants[6], constants[7], constants[8], constants[9], constants[10], constants[11], constants[12],
        constants[13], constants[14], constants[15],
    )  # fmt: skip
    x, v, a, felt = state[0], state[1], state[2], state[3]
    z, u, b, e = state[4], state[5], state[6], state[7]
    push, surge = np.zeros(speeds), np.zeros(speeds)
    contact, tip = np.zeros(speeds), np.zeros(speeds)
    peak, peak_at, least, least_at = noted[0], noted[1], noted[2], noted[3]
    top, seating, greatest, deepest = noted[4], noted[5], noted[6], noted[7]
    loft, bounce, slackest = noted[8], noted[9], noted[10]
    tip_peak, tip_peak_at, tip_least, tip_least_at = noted[11], noted[12], noted[13], noted[14]
    low, high = noted[15], noted[16]
    for s in range(speeds):
        loft[s], bounce[s], slackest[s] = 0.0, 0.0, 1e300
        peak[s], peak_at[s], least[s], least_at[s] = -1.0, 0.0, 1e300, 0.0
        top[s], seating[s], greatest[s], deepest[s] = -1e300, 0.0, 0.0, 1e300
        tip_peak[s], tip_peak_at[s], tip_least[s], tip_least_at[s] = -1.0, 0.0, 1e300, 0.0
        low[s], high[s] = 1e300, -1e300
    for i in range(lobe.size):
        at, rise, shut = lobe[i], slope[i], closing[i]
        before = lobe[i - 1]
        for s in range(speeds):
            push[s] = 0.0
            surge[s] = 0.0
        for n in range(modes.shape[0]):
            drive, w2, damping = -2.0 * modes[n, 0], modes[n, 1], modes[n, 2]
            pushed, loads = modes[n, 3], modes[n, 4]
            q, p, r = waves[0, n], waves[1, n], waves[2, n]
            for s in range(speeds):
                qa = drive * felt[s] - r[s]
                half = p[s] + step[s] * qa
                place = q[s] + step[s] * half
                back = damping * (half + 0.5 * step[s] * qa) + w2 * place
                p[s] = half
                q[s] = place
                r[s] = back
                push[s] += pushed * back
                surge[s] += loads * place
        for s in range(speeds):
            h = step[s]
            x0, v0, a0, z0, u0, b0, e0 = x[s], v[s], a[s], z[s], u[s], b[s], e[s]
            half = v0 + 0.5 * h * a0
            x1 = x0 + h * half
            told = half + 0.5 * h * a0
            lifted = u0 + 0.5 * h * b0
            z1 = z0 + h * lifted
            lifts = lifted + 0.5 * h * b0
            toward = rise / h
            gap = at - z1
            was = before - z0
            bend = z1 + e0 - lash - x1
            bent = z0 + e0 - lash - x0
            on_lobe = (gap > 0.0) & (lobe_K * gap + lobe_C * (toward - lifts) > 0.0)
            on_tip = (bend > 0.0) & (K * bend + C * (lifts - told) > 0.0)
            on_seat = (x1 < 0.0) & (seat_k * x1 + seat_c * told < 0.0)
            # As in `stepping`: a contact that began within the step acts for the rest of it, one that lasts for half.
            met = on_lobe & (was < 0.0)
            tipped = on_tip & (bent < 0.0)
            landed = on_seat & (x0 > 0.0)
            lobe_part = gap / (gap - was) if met else 0.5
            tip_part = bend / (bend - bent) if tipped else 0.5
            seat_part = x1 / (x1 - x0) if landed else 0.5
            began = tip_part if tipped else (seat_part if landed else 0.0)
            started = lobe_part if met else (tip_part if tipped else 0.0)
            lobe_k, lobe_c = lobe_K if on_lobe else 0.0, lobe_C if on_lobe else 0.0
            tip_k, tip_c = K if on_tip else 0.0, C if on_tip else 0.0
            rest_k, rest_c = seat_k if on_seat else 0.0, seat_c if on_seat else 0.0
            loose = half + 0.5 * h * inverse * (push[s] - shut - rate * x1)
            free = lifted - 0.5 * h * light * hold
            heavy, easy = h * inverse, h * light
            right = loose + heavy * (tip_part * tip_k * bend - seat_part * rest_k * x1)
            left = free + easy * (lobe_part * (lobe_k * gap + lobe_c * toward) - tip_part * tip_k * bend)
            # v1 (1 + p + r) - p u1 = right;  u1 (1 + l + q) - q v1 = left
            drag, drags = heavy * tip_part * tip_c, easy * tip_part * tip_c
            own = 1.0 + drag + heavy * seat_part * rest_c
            owns = 1.0 + drags + easy * lobe_part * lobe_c
            v1 = (right * owns + drag * left) / (own * owns - drag * drags)
            rub = 0.5 * heavy * friction
            stuck = (friction > 0.0) & (v1 <= rub) & (v1 >= -rub)
            rubbed = friction if v1 > 0.0 else -friction
            v1 = 0.0 if stuck else v1 - 0.5 * heavy * rubbed
            u1 = (left + drags * v1) / owns
            F = lobe_k * gap + lobe_c * (toward - u1)
            T = tip_k * bend + tip_c * (u1 - v1)
            G = -rest_k * x1 - rest_c * v1
            a1 = 0.0 if stuck else inverse * (T + G - shut - rate * x1 + push[s] - rubbed)
            b1 = light * (F - T - hold)
            F = F if F > 0.0 else 0.0
            T = T if T > 0.0 else 0.0
            x1 += 0.5 * h * began * (v1 - loose)
            z1 += 0.5 * h * started * (u1 - free)
            slack = x1 + lash - z1 - e0
            filled = h * refill
            filled = slack if slack < filled else filled
            filled = 0.0 if (slack < 0.0) | on_tip else filled
            e1 = e0 + filled - h * leak * T
            e1 = lowest if e1 < lowest else e1
            e1 = highest if e1 > highest else e1
            x[s] = x1
            v[s] = v1
            a[s] = a1
            z[s] = z1
            u[s] = u1
            b[s] = b1
            e[s] = e1
            felt[s] = (v1 - half) / h + 0.5 * a1
            contact[s] = F
            tip[s] = T
            higher = x1 > top[s]
            down = (x0 > 0.0) & (x1 <= 0.0) & (seating[s] == 0.0)
            top[s] = x1 if higher else top[s]
            falling = v0 - a0 * x0 / half  # where it meets the seat, which then takes hold at once
            seating[s] = 0.0 if higher else (falling if down else seating[s])
            aloft = at - lash < 0.0
            bounce[s] = x1 if (seating[s] < 0.0) & aloft & (x1 > bounce[s]) else (0.0 if higher else bounce[s])
            deepest[s] = x1 if x1 < deepest[s] else deepest[s]
        inside = (i >= window[0]) & (i <= window[1])
        for s in range(speeds):
            F = contact[s]
            more = F > peak[s]
            peak[s] = F if more else peak[s]
            peak_at[s] = i if more else peak_at[s]
            T = tip[s]
            more = T > tip_peak[s]
            tip_peak[s] = T if more else tip_peak[s]
            tip_peak_at[s] = i if more else tip_peak_at[s]
        for s in range(speeds):
            size = abs(surge[s])
            greatest[s] = size if size > greatest[s] else greatest[s]
            low[s] = e[s] if e[s] < low[s] else low[s]
            high[s] = e[s] if e[s] > high[s] else high[s]
        if inside:
            for s in range(speeds):
                F = contact[s]
                less = F < least[s]
                least[s] = F if less else least[s]
                least_at[s] = i if less else least_at[s]
                T = tip[s]
                less = T < tip_least[s]
                tip_least[s] = T if less else tip_least[s]
                tip_least_at[s] = i if less else tip_least_at[s]
            for s in range(speeds):
                over = x[s] + lash - at
                loft[s] = over if over > loft[s] else loft[s]
                slackest[s] = surge[s] if surge[s] < slackest[s] else slackest[s]
        if i % every == 0 and i // every < force.shape[0]:
            for s in range(speeds):
                force[i // every, s] = contact[s]
                tip_force[i // every, s] = tip[s]
