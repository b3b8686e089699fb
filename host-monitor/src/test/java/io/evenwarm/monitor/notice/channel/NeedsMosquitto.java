package io.evenwarm.monitor.notice.channel;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import org.junit.jupiter.api.extension.ConditionEvaluationResult;
import org.junit.jupiter.api.extension.ExecutionCondition;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.extension.ExtensionContext;

/** Skips a test where Debian's package {@code mosquitto} is missing, and names it. */
@Target(ElementType.TYPE)
@Retention(RetentionPolicy.RUNTIME)
@ExtendWith(NeedsMosquitto.Condition.class)
public @interface NeedsMosquitto {

    /** Looks for the broker's program. */
    final class Condition implements ExecutionCondition {

        @Override
        public ConditionEvaluationResult evaluateExecutionCondition(ExtensionContext context) {
            if (Mosquitto.program().isPresent()) {
                return ConditionEvaluationResult.enabled("mosquitto is there");
            }
            String words = "skipped, it needs a broker: apt-get install mosquitto";
            System.err.println(context.getDisplayName() + ": " + words);
            return ConditionEvaluationResult.disabled(words);
        }
    }
}
