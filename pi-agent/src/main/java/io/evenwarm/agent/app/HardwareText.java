package io.evenwarm.agent.app;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A hardware check in words and in JSON. */
final class HardwareText {

    private HardwareText() {}

    /** For a keeper. */
    static List<String> lines(HardwareCheck check) {
        List<String> lines = new ArrayList<>();
        section(lines, "probes", check.probes(), "MISSING");
        section(lines, "found, but in no cabinet", check.unused(), "does not answer");
        section(lines, "lines", check.lines(), "MISSING");
        section(lines, "heat", check.heat(), "REFUSED");
        lines.add("");
        return lines;
    }

    private static void section(
            List<String> lines, String title, List<HardwareCheck.Item> items, String word) {
        if (items.isEmpty()) {
            return;
        }
        lines.add("");
        lines.add(title);
        int userWidth = width(items.stream().map(HardwareCheck.Item::user).toList());
        int placeWidth = width(items.stream().map(HardwareCheck.Item::place).toList());
        for (HardwareCheck.Item item : items) {
            String said = item.trouble().map(why -> word + ": " + why).orElse(item.found());
            lines.add(
                    padded(item.user(), userWidth)
                            + padded(item.place(), placeWidth)
                            + "  "
                            + said);
        }
    }

    private static int width(List<String> texts) {
        return texts.stream().mapToInt(String::length).max().orElse(0);
    }

    private static String padded(String text, int width) {
        return width == 0 ? "" : "  " + text + " ".repeat(width - text.length());
    }

    /** For a program. */
    static Map<String, Object> json(HardwareCheck check) {
        Map<String, Object> object = new LinkedHashMap<>();
        object.put("isWell", check.isWell());
        object.put("probes", list(check.probes()));
        object.put("unused", list(check.unused()));
        object.put("lines", list(check.lines()));
        object.put("heat", list(check.heat()));
        return object;
    }

    private static List<Map<String, Object>> list(List<HardwareCheck.Item> items) {
        List<Map<String, Object>> list = new ArrayList<>();
        for (HardwareCheck.Item item : items) {
            Map<String, Object> map = new LinkedHashMap<>();
            map.put("user", item.user());
            map.put("place", item.place());
            map.put("found", item.trouble().isEmpty() ? item.found() : "");
            map.put("trouble", item.trouble());
            list.add(map);
        }
        return list;
    }
}
