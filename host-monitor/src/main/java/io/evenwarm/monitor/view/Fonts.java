package io.evenwarm.monitor.view;

import java.util.List;
import java.util.Set;
import javafx.scene.text.Font;

/**
 * Chooses the window's type: the first of these that the machine has. All have digits of one width,
 * so that a number that changes does not jump about.
 */
final class Fonts {

    private static final List<String> PREFERRED =
            List.of(
                    "Noto Sans",
                    "Source Sans 3",
                    "Segoe UI",
                    "Helvetica Neue",
                    "Roboto",
                    "DejaVu Sans",
                    "Liberation Sans");

    private Fonts() {}

    static String family() {
        Set<String> installed = Set.copyOf(Font.getFamilies());
        return PREFERRED.stream()
                .filter(installed::contains)
                .findFirst()
                .orElse(Font.getDefault().getFamily());
    }
}
