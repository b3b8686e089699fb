package io.evenwarm.agent.loop;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.Reading.Doubt;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class LossLogTest {

    private static final long SECOND = 1_000_000_000L;

    private final LossLog log = new LossLog();

    @Test
    void theFirstOfEachTroubleIsToldAtOnce() {
        assertEquals(Optional.of(""), log.lost(Doubt.CHECKSUM, 5 * SECOND));
        assertEquals(Optional.of(""), log.lost(Doubt.OUT_OF_RANGE, 6 * SECOND));
    }

    @Test
    void aLooseWireGetsALineInTenMinutesThatSaysHowOften() {
        int lines = 0;
        String last = "";
        for (long second = 0; second < 24 * 3600; second += 6) {
            Optional<String> line = log.lost(Doubt.CHECKSUM, second * SECOND);
            lines += line.isPresent() ? 1 : 0;
            last = line.orElse(last);
        }
        assertEquals(144, lines);
        assertEquals("; 99 more since the last such line", last);
    }

    @Test
    void whatComesBackAfterHoursIsToldAtOnce() {
        log.lost(Doubt.CHECKSUM, 0);
        assertEquals(Optional.of(""), log.lost(Doubt.CHECKSUM, 3 * 3600 * SECOND));
    }
}
