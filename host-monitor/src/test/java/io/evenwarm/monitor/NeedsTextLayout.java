package io.evenwarm.monitor;

import com.sun.glass.utils.NativeLibLoader;
import java.awt.Font;
import java.awt.image.BufferedImage;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import org.junit.jupiter.api.extension.ConditionEvaluationResult;
import org.junit.jupiter.api.extension.ExecutionCondition;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.extension.ExtensionContext;

/**
 * A test that lays out text: skipped, with one line that names what is missing, where the system
 * lacks the libraries for it. Found out by loading them.
 */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@ExtendWith(NeedsTextLayout.Condition.class)
public @interface NeedsTextLayout {

    /** Tries once in a test run. */
    final class Condition implements ExecutionCondition {

        private static final AtomicBoolean TOLD = new AtomicBoolean();
        private static final Optional<String> MISSING = missing();

        @Override
        public ConditionEvaluationResult evaluateExecutionCondition(ExtensionContext context) {
            if (MISSING.isEmpty()) {
                return ConditionEvaluationResult.enabled("text can be laid out");
            }
            String words = "window and chart tests are skipped: install " + MISSING.get();
            if (!TOLD.getAndSet(true)) {
                System.err.println(words);
            }
            return ConditionEvaluationResult.disabled(words);
        }

        private static Optional<String> missing() {
            try {
                NativeLibLoader.loadLibrary("javafx_font");
                NativeLibLoader.loadLibrary("javafx_font_freetype");
                NativeLibLoader.loadLibrary("javafx_font_pango");
            } catch (LinkageError absent) {
                return Optional.of("libpango-1.0-0 libpangoft2-1.0-0");
            }
            try {
                new BufferedImage(1, 1, BufferedImage.TYPE_INT_ARGB)
                        .createGraphics()
                        .getFontMetrics(new Font(Font.SANS_SERIF, Font.PLAIN, 11))
                        .stringWidth("31.5");
            } catch (LinkageError | InternalError | RuntimeException absent) {
                return Optional.of("fontconfig fonts-dejavu-core");
            }
            return Optional.empty();
        }
    }
}
