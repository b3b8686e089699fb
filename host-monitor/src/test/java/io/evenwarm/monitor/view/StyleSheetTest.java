package io.evenwarm.monitor.view;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.monitor.chart.Ink;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;

final class StyleSheetTest {

    private static final Pattern DEFINED = Pattern.compile("^\\s+-([a-z-]+): (#[0-9a-f]{6});");

    @Test
    void theWindowsColoursAreThoseOfTheCurves() throws IOException {
        int found = 0;
        for (String line : sheet().split("\n", -1)) {
            Matcher matcher = DEFINED.matcher(line);
            if (matcher.find()) {
                String name = matcher.group(1).replace('-', '_').toUpperCase(Locale.ROOT);
                assertEquals(Ink.valueOf(name).css(), matcher.group(2), name);
                found++;
            }
        }
        assertTrue(found >= 10, "only " + found + " colours were found");
    }

    private static String sheet() throws IOException {
        try (InputStream in =
                Objects.requireNonNull(StyleSheetTest.class.getResourceAsStream("evenwarm.css"))) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }
}
