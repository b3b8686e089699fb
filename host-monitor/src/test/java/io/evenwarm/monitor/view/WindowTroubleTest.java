package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

final class WindowTroubleTest {

    @Test
    void whatIsMissingIsNamedInOneLine() {
        assertTrue(
                WindowTrouble.words(new UnsupportedOperationException("Unable to open DISPLAY"))
                        .contains("no display"));
        assertTrue(
                WindowTrouble.words(
                                new UnsupportedOperationException(
                                        "Unable to load glass GTK library."))
                        .contains("libgtk-3-0"));
        assertTrue(
                WindowTrouble.words(
                                new IllegalStateException(
                                        new UnsatisfiedLinkError("libpangoft2-1.0.so.0: absent")))
                        .contains("libpango-1.0-0"));
    }
}
