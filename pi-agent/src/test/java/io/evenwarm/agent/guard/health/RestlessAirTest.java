package io.evenwarm.agent.guard.health;

import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

final class RestlessAirTest {

    private final RestlessAir air = new RestlessAir();

    @Test
    void aPlungeMakesTheAirRestlessForAMinute() {
        assertFalse(air.take(31.5), "nothing was before");
        assertFalse(air.take(31.4));
        assertTrue(air.take(29));
        for (int block = 1; block < 6; block++) {
            assertTrue(air.take(29), "block " + block);
        }
        assertFalse(air.take(29));
    }

    @Test
    void theAirThatComesBackIsRestlessToo() {
        air.take(29);
        assertTrue(air.take(29.6));
    }

    @Test
    void whatAHeaterDoesIsCalm() {
        double celsius = 20;
        for (int block = 0; block < 360; block++) {
            assertFalse(air.take(celsius));
            celsius += 0.03;
        }
    }
}
