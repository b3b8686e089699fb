package io.evenwarm.monitor.alarm;

import static io.evenwarm.monitor.alarm.Scene.NORTH;
import static io.evenwarm.monitor.alarm.Scene.ROOM;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Whether a cabinet comes up, whenever it was opened within the quarters of an hour. */
final class CourseTest {

    private static final int OPEN_SECONDS = 12 * 60;

    private final Scene scene = new Scene(ROOM);
    private Optional<Course> course = Optional.empty();

    private void pass(int seconds, double fromCelsius, double toCelsius, boolean isOpen) {
        for (int second = 0; second < seconds; second++) {
            scene.advance(1);
            scene.at(NORTH).all(fromCelsius + (toCelsius - fromCelsius) * (second + 1) / seconds);
            course =
                    Course.after(
                            course,
                            scene.snapshot(NORTH.cabinet(), scene.at(NORTH)),
                            isOpen,
                            scene.now());
        }
    }

    /** All the warm air is let out. */
    private void openAfter(int seconds) {
        pass(seconds, 31.5, 31.5, false);
        pass(OPEN_SECONDS, 31.5, 21, true);
    }

    private boolean isRising() {
        return course.map(Course::isRising).orElse(false);
    }

    @ParameterizedTest
    @ValueSource(ints = {3600, 3700, 3899, 4000, 4300, 4499})
    void fiveMinutesAfterTheDoorWasShutItIsKnownToRise(int openedAfterSeconds) {
        openAfter(openedAfterSeconds);
        assertEquals(false, isRising(), "the door is open");
        pass(301, 21, 21.4, false);
        assertEquals(true, isRising());
        pass(3600, 21.4, 26, false);
        assertEquals(true, isRising());
    }

    @ParameterizedTest
    @ValueSource(ints = {3600, 3700, 3899, 4000, 4300, 4499})
    void oneThatStaysColdIsNot(int openedAfterSeconds) {
        openAfter(openedAfterSeconds);
        pass(1800, 21, 21.1, false);
        assertEquals(false, isRising());
    }

    /** Walls and tubs give back some of their warmth at first, with or without a heater. */
    @ParameterizedTest
    @ValueSource(ints = {3600, 3700, 3899, 4000, 4300, 4499})
    void oneThatRisesAtFirstOnlyIsNotForMoreThanHalfAnHour(int openedAfterSeconds) {
        openAfter(openedAfterSeconds);
        pass(300, 21, 25, false);
        pass(1800, 25, 25, false);
        assertEquals(false, isRising());
    }
}
