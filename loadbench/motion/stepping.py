"""One turn of the cam, stepped for many speeds side by side: the loop that is compiled.

The equations and their symbols are those of `sweep.py`. Every speed takes the same number of steps a turn, so that all
share one table of the lift; speeds lie side by side in memory, and each inner loop runs over them, which lets the
compiler use the processor's vector units. The scheme is the leapfrog (Stoermer-Verlet) for the valve and each mode of
the spring: second order, and without damping it keeps the energy. Mode speeds stand half a step behind their place.
"""

from __future__ import annotations

import numpy as np

from loadbench.arrays import Floats

X, V, A, FELT = 0, 1, 2, 3
"""Rows of the valve's state: lift, its speed, its acceleration, and that which the modes feel: the change of speed from
the middle of one step to the next, for each second. The last two differ in steps in which a contact begins."""

Q, P, R = 0, 1, 2
"""Rows of the modes' state: amplitude, its speed half a step earlier, what pulls it back per unit of its mass."""

PEAK, PEAK_AT, LEAST, LEAST_AT, TOP, SEATING, SURGE, DEEPEST, LOFT, BOUNCE, SLACKEST = range(11)
"""Rows of what is noted of a turn: forces N, places as steps, greatest lift m, speed m/s, greatest size of the surge
load N, least lift m; greatest lift of the valve above the lobe and after it first landed, m; and within the window the
surge load that takes most from the spring, N."""

NOTED = 11

LINKAGE_K, LINKAGE_C, RATE, SEAT_K, SEAT_C, INVERSE_MASS = range(6)
"""Places of the constants: N/m, N s/m, N/m, N/m, N s/m, 1/kg."""

MODE_C, MODE_W2, MODE_DAMPING, MODE_PUSH, MODE_LOAD = range(5)
"""Columns of the modes' constants: share c_n, w_n squared, 2 z w_n, m_s c_n, and the end load for each metre of q_n."""


def turn(
    lift: Floats,
    slope: Floats,
    closing: Floats,
    step: Floats,
    constants: Floats,
    modes: Floats,
    valve: Floats,
    waves: Floats,
    noted: Floats,
    window: tuple[int, int],
    force: Floats,
    every: int,
) -> None:
    """Step all speeds through one turn of the cam, and note what happens.

    Args:
        lift: of the lobe at the valve less lash, at the end of each step, m, shape (steps,).
        slope: its change a step there, m, shape (steps,).
        closing: load that closes the valve besides the spring's rate (preload, gas), N, shape (steps,).
        step: length of a step, s, shape (speeds,).
        constants: as named above, shape (6,).
        modes: as named above, shape (modes, 5).
        valve: state, changed in place, shape (4, speeds).
        waves: state of the modes, changed in place, shape (3, modes, speeds).
        noted: filled, shape (11, speeds).
        window: first and last step within which the least force counts.
        force: filled with the contact force at every `every`-th step, N, shape (steps // every, speeds).
        every: see there.

    Source:
        own derivation: leapfrog of the equations; check values of two-contact valve dynamics.
    """
    speeds = step.size
    K, C, rate, seat_k, seat_c, inverse = (
        constants[0],
        constants[1],
        constants[2],
        constants[3],
        constants[4],
        constants[5],
    )
    x, v, a, felt = valve[0], valve[1], valve[2], valve[3]
    push, surge, contact = np.zeros(speeds), np.zeros(speeds), np.zeros(speeds)
    peak, peak_at, least, least_at = noted[0], noted[1], noted[2], noted[3]
    top, seating, greatest, deepest = noted[4], noted[5], noted[6], noted[7]
    loft, bounce, slackest = noted[8], noted[9], noted[10]
    for s in range(speeds):
        loft[s], bounce[s], slackest[s] = 0.0, 0.0, 1e300
        peak[s], peak_at[s], least[s], least_at[s] = -1.0, 0.0, 1e300, 0.0
        top[s], seating[s], greatest[s], deepest[s] = -1e300, 0.0, 0.0, 0.0
    for i in range(lift.size):
        at, rise, shut = lift[i], slope[i], closing[i]
        before = lift[i - 1]
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
            x0, v0, a0 = x[s], v[s], a[s]
            half = v0 + 0.5 * h * a0
            x1 = x0 + h * half
            told = half + 0.5 * h * a0
            gap = at - x1
            toward = rise / h
            on_lobe = (gap > 0.0) & (K * gap + C * (toward - told) > 0.0)
            on_seat = (x1 < 0.0) & (seat_k * x1 + seat_c * told < 0.0)
            lobe_k, lobe_c = K if on_lobe else 0.0, C if on_lobe else 0.0
            rest_k, rest_c = seat_k if on_seat else 0.0, seat_c if on_seat else 0.0
            # A contact that began within the step acts for the rest of it only; one that lasts, as in any leapfrog,
            # for the second half. Its damping takes the speed at the end of the step, which it helps to make.
            was = before - x0
            met = on_lobe & (was < 0.0)
            landed = on_seat & (x0 > 0.0)
            lobe_part = gap / (gap - was) if met else 0.5
            seat_part = x1 / (x1 - x0) if landed else 0.5
            began = lobe_part if met else (seat_part if landed else 0.0)
            loose = half + 0.5 * h * inverse * (push[s] - shut - rate * x1)
            struck = h * inverse * (lobe_part * (lobe_k * gap + lobe_c * toward) - seat_part * rest_k * x1)
            v1 = (loose + struck) / (1.0 + h * inverse * (lobe_part * lobe_c + seat_part * rest_c))
            F = lobe_k * gap + lobe_c * (toward - v1)
            G = -rest_k * x1 - rest_c * v1
            a1 = inverse * (F + G - shut - rate * x1 + push[s])
            F = F if F > 0.0 else 0.0
            x1 += 0.5 * h * began * (v1 - loose)
            x[s] = x1
            v[s] = v1
            a[s] = a1
            felt[s] = (v1 - half) / h + 0.5 * a1
            contact[s] = F
            higher = x1 > top[s]
            down = (x0 > 0.0) & (x1 <= 0.0) & (seating[s] == 0.0)
            top[s] = x1 if higher else top[s]
            falling = v0 - a0 * x0 / half  # where it meets the seat, which then takes hold at once
            seating[s] = 0.0 if higher else (falling if down else seating[s])
            bounce[s] = x1 if (seating[s] < 0.0) & (at < 0.0) & (x1 > bounce[s]) else (0.0 if higher else bounce[s])
            deepest[s] = x1 if x1 < deepest[s] else deepest[s]
        inside = (i >= window[0]) & (i <= window[1])
        for s in range(speeds):
            F = contact[s]
            more = F > peak[s]
            peak[s] = F if more else peak[s]
            peak_at[s] = i if more else peak_at[s]
            size = abs(surge[s])
            greatest[s] = size if size > greatest[s] else greatest[s]
        if inside:
            for s in range(speeds):
                F = contact[s]
                less = F < least[s]
                least[s] = F if less else least[s]
                least_at[s] = i if less else least_at[s]
                over = x[s] - at
                loft[s] = over if over > loft[s] else loft[s]
                slackest[s] = surge[s] if surge[s] < slackest[s] else slackest[s]
        if i % every == 0 and i // every < force.shape[0]:
            for s in range(speeds):
                force[i // every, s] = contact[s]
