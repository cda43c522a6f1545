"""One line's follower: what it carries over the cycle, contact, film, axle and plunger."""
