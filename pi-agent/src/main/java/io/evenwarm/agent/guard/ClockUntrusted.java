package io.evenwarm.agent.guard;

import io.evenwarm.agent.guard.Persistence.Presence;
import io.evenwarm.message.FindingCode;
import java.util.Locale;
import java.util.Optional;

/**
 * The wall clock was not set since the boot, or jumped. Decides nothing: durations don't use it.
 */
final class ClockUntrusted extends Watch {

    /** The network usually sets it within minutes of a boot. */
    private static final double ON_DELAY_SECONDS = 600;

    /** What a correction by the network may be without being worth a word. */
    static final double JUMP_SECONDS = 5;

    private static final long JUMP_TOLD_NANOS = 3600_000_000_000L;

    private boolean wasTrusted;
    private boolean hasJumped;
    private double jumpSeconds;
    private long jumpedAtNanos;
    private boolean isUntrustedSince;
    private long untrustedSinceNanos;

    ClockUntrusted() {
        super(FindingCode.CLOCK_UNTRUSTED, Optional.empty(), 0, 0);
    }

    @Override
    Presence look(Circumstances now, boolean isRaised) {
        Signs signs = now.facts().signs();
        // The first setting after a boot is what was waited for.
        if (wasTrusted && Math.abs(signs.wallJumpSeconds()) > JUMP_SECONDS) {
            hasJumped = true;
            jumpSeconds = signs.wallJumpSeconds();
            jumpedAtNanos = now.nowNanos();
        }
        wasTrusted = signs.isWallClockTrusted();
        hasJumped &= now.nowNanos() - jumpedAtNanos < JUMP_TOLD_NANOS;
        if (!wasTrusted && !isUntrustedSince) {
            untrustedSinceNanos = now.nowNanos();
        }
        isUntrustedSince = !wasTrusted;
        boolean isLongUntrusted =
                isUntrustedSince && now.nowNanos() - untrustedSinceNanos >= ON_DELAY_SECONDS * 1e9;
        return Presence.of(hasJumped || isLongUntrusted);
    }

    @Override
    Words words(Circumstances now) {
        return new Words(
                hasJumped
                        ? String.format(
                                Locale.ROOT,
                                "the wall clock jumped by %.0f s while it ran",
                                jumpSeconds)
                        : "nothing has set the wall clock since the boot",
                "goes on: control and guard use no wall clock; moments in the record are marked",
                hasJumped
                        ? "Check this machine's time service; the times of the record around it may"
                                + " be wrong."
                        : "Connect the machine to its network or time service, or set the clock.");
    }
}
