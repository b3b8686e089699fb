package io.evenwarm.agent.driver.timekeeping;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.sun.jna.Memory;
import org.junit.jupiter.api.Test;

/** Values: {@code include/uapi/linux/timex.h}; adjtimex(2). */
final class KernelClockTest {

    private static final int TIME_OK = 0;
    private static final int TIME_INS = 1;
    private static final int TIME_ERROR = 5;
    private static final int STA_PLL = 0x0001;
    private static final int STA_UNSYNC = 0x0040;
    private static final int STA_NANO = 0x2000;

    /** {@code modes} (int), {@code offset}, {@code freq}, {@code maxerror}, {@code esterror}. */
    private static Memory timex(int longOctets, int status) {
        Memory timex = new Memory(208);
        for (long i = 0; i < timex.size(); i++) {
            timex.setByte(i, (byte) 0xff);
        }
        timex.setInt(longOctets == 8 ? 40 : 20, status);
        return timex;
    }

    private static boolean isKept(int answer, int longOctets, int status) {
        try (Memory timex = timex(longOctets, status)) {
            return KernelClock.isKept(answer, timex, longOctets);
        }
    }

    @Test
    void aClockThatATimeServiceSteersIsKept() {
        assertTrue(isKept(TIME_OK, 8, STA_PLL | STA_NANO));
        assertTrue(isKept(TIME_OK, 4, STA_PLL));
        assertTrue(isKept(TIME_INS, 8, STA_PLL), "a leap second comes");
    }

    @Test
    void aClockThatNobodyHasSetIsNot() {
        assertFalse(isKept(TIME_ERROR, 8, STA_UNSYNC));
        assertFalse(isKept(TIME_OK, 8, STA_PLL | STA_UNSYNC));
        assertFalse(isKept(TIME_OK, 4, STA_UNSYNC));
    }

    @Test
    void aKernelThatRefusesIsNoVoucher() {
        assertFalse(isKept(-1, 8, 0));
    }

    @Test
    void theRealKernelIsAskedAndAnswersTheSameTwice() {
        KernelClock clock = new KernelClock();
        assertEquals(clock.getAsBoolean(), clock.getAsBoolean());
    }
}
