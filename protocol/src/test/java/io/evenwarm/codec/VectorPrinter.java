package io.evenwarm.codec;

import io.evenwarm.frame.FrameWriter;
import io.evenwarm.message.Message;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.HexFormat;
import java.util.List;

/**
 * Prints encoded sample messages and their frames. Without arguments those of the protocol's page,
 * with names those, with {@code all} all of them, for new golden files.
 */
final class VectorPrinter {

    /** Small ones, and one with an octet that is stuffed. */
    private static final List<String> ON_THE_PAGE =
            List.of("keep-alive", "acknowledge", "hello", "command-set-set-point", "time");

    private static final int DIGITS_A_LINE = 96;

    private VectorPrinter() {}

    public static void main(String[] names) {
        List<String> chosen =
                names.length == 0
                        ? ON_THE_PAGE
                        : List.of(names).equals(List.of("all"))
                                ? List.copyOf(SampleMessages.all().keySet())
                                : List.of(names);
        PrintStream out = new PrintStream(System.out, true, StandardCharsets.UTF_8);
        out.print(text(chosen));
    }

    static String forThePage() {
        return text(ON_THE_PAGE);
    }

    private static String text(List<String> names) {
        StringBuilder text = new StringBuilder();
        for (String name : names) {
            Message message = SampleMessages.named(name);
            byte[] payload = new MessageCodec().encode(message);
            text.append(name).append('\n');
            lines(text, "  payload ", payload);
            lines(text, "  frame   ", FrameWriter.frame(payload));
        }
        return text.toString();
    }

    private static void lines(StringBuilder text, String head, byte[] octets) {
        String digits = HexFormat.of().formatHex(octets);
        String lead = head;
        for (int start = 0; start < digits.length(); start += DIGITS_A_LINE) {
            int end = Math.min(start + DIGITS_A_LINE, digits.length());
            text.append(lead).append(digits, start, end).append('\n');
            lead = " ".repeat(head.length());
        }
    }
}
