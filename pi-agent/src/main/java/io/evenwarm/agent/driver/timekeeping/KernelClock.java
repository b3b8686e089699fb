package io.evenwarm.agent.driver.timekeeping;

import com.sun.jna.Memory;
import com.sun.jna.Native;
import com.sun.jna.Platform;
import com.sun.jna.Pointer;
import java.lang.System.Logger;
import java.lang.System.Logger.Level;
import java.util.function.BooleanSupplier;

/**
 * Whether the kernel's clock is kept by somebody: every time service for Linux clears {@code
 * STA_UNSYNC} once it has set the clock, and the kernel sets it again when nobody has steered the
 * clock for hours (adjtimex(2); kernel, {@code kernel/time/ntp.c}).
 *
 * <p>Where the system call isn't there, or isn't allowed, the answer is no. One thread.
 */
public final class KernelClock implements BooleanSupplier {

    private static final Logger LOG = System.getLogger(KernelClock.class.getName());

    /** {@code STA_UNSYNC}: include/uapi/linux/timex.h. */
    private static final int UNSYNCHRONIZED = 0x0040;

    /** {@code TIME_ERROR}: the same header; a return value. */
    private static final int TIME_ERROR = 5;

    /** Larger than {@code struct timex} on any machine: 208 octets on 64 bits. */
    private static final int TIMEX_OCTETS = 512;

    private boolean isUsable = true;

    @Override
    public boolean getAsBoolean() {
        if (!isUsable) {
            return false;
        }
        try (Memory timex = new Memory(TIMEX_OCTETS)) {
            // All zero: "modes" empty, which reads and sets nothing.
            timex.clear();
            return isKept(C.adjtimex(timex), timex, Native.LONG_SIZE);
        } catch (LinkageError e) {
            isUsable = false;
            LOG.log(Level.DEBUG, "the kernel's clock can't be asked", e);
            return false;
        }
    }

    /**
     * What the system call said.
     *
     * <p>{@code status} stands in {@code struct timex} behind an int, padded to a long, and four
     * longs (adjtimex(2)).
     *
     * @param answer the call's value: below zero when it is refused
     * @param timex what it filled
     * @param longOctets of the C library's {@code long}
     */
    static boolean isKept(int answer, Pointer timex, int longOctets) {
        return answer >= 0
                && answer != TIME_ERROR
                && (timex.getInt(5L * longOctets) & UNSYNCHRONIZED) == 0;
    }

    /** The C library's function; loaded with the first use. */
    private static final class C {
        static {
            Native.register(Platform.C_LIBRARY_NAME);
        }

        private C() {}

        static native int adjtimex(Pointer timex);
    }
}
