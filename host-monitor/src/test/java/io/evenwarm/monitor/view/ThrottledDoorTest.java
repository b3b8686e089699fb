package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.view.ThrottledDoor.Slot;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.List;
import java.util.Queue;
import org.junit.jupiter.api.Test;

final class ThrottledDoorTest {

    private static final long MILLISECOND = 1_000_000L;

    private final Queue<Runnable> windowThread = new ArrayDeque<>();
    private final List<String> seen = new ArrayList<>();
    private long nowNanos = Long.MAX_VALUE - 5 * MILLISECOND; // the clock's zero is arbitrary
    private final ThrottledDoor door = new ThrottledDoor(windowThread::add, () -> nowNanos);

    @Test
    void aFloodOfWorkPassesAtMostTenTimesASecondAndTheNewestOfItAlwaysArrives() {
        for (int millisecond = 0; millisecond < 1000; millisecond++) {
            String text = "model " + millisecond;
            door.put(Slot.MODEL, () -> seen.add(text));
            door.step();
            runWindowThread();
            nowNanos += MILLISECOND;
        }
        assertEquals(10, door.passes());
        assertEquals("model 900", seen.get(seen.size() - 1));
        nowNanos += 100 * MILLISECOND;
        door.step();
        runWindowThread();
        assertEquals("model 999", seen.get(seen.size() - 1));
    }

    @Test
    void aStuckWindowThreadIsLeftOneBatchAndNotAQueue() {
        for (int second = 0; second < 60; second++) {
            String text = "model " + second;
            door.put(Slot.MODEL, () -> seen.add(text));
            door.step();
            nowNanos += 1000 * MILLISECOND;
        }
        assertEquals(1, windowThread.size());
        runWindowThread();
        door.step();
        runWindowThread();
        assertEquals(List.of("model 0", "model 59"), seen);
    }

    @Test
    void slotsDoNotPushEachOtherOut() {
        door.put(Slot.CHART, () -> seen.add("chart"));
        door.put(Slot.MODEL, () -> seen.add("model"));
        door.put(Slot.CHART, () -> seen.add("newer chart"));
        door.step();
        runWindowThread();
        assertEquals(List.of("model", "newer chart"), seen);
    }

    @Test
    void workThatThrowsDoesNotCloseTheDoor() {
        door.put(
                Slot.MODEL,
                () -> {
                    throw new IllegalStateException("broken update");
                });
        door.step();
        Runnable batch = windowThread.remove();
        try {
            batch.run();
        } catch (IllegalStateException expected) {
            seen.add(String.valueOf(expected.getMessage()));
        }
        nowNanos += 200 * MILLISECOND;
        door.put(Slot.MODEL, () -> seen.add("next"));
        door.step();
        runWindowThread();
        assertEquals(List.of("broken update", "next"), seen);
        assertTrue(windowThread.isEmpty());
    }

    private void runWindowThread() {
        Runnable batch = windowThread.poll();
        while (batch != null) {
            batch.run();
            batch = windowThread.poll();
        }
    }
}
